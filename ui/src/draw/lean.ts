import type { CornerBuild, CornerFrame, CornerPoint } from '../api/contract';

/** Where a drawing stands on the page: pixels per unit of length, and the ground's height in it. */
export interface Scale {
  per: number;
  ground: number;
  middle: number;
}

/** The scale at which one axle with its roof fits a width and a height. */
export function fit(frame: CornerFrame, width: number, height: number): Scale {
  const wide = Math.max(...frame.track, 1) + 2.6 * frame.tyre;
  const per = Math.min(width / wide, height / (frame.height * 1.12));
  return { per, ground: height, middle: width / 2 };
}

/** A body from behind as a path about the middle of its axle on the ground, at rest; y is down. */
export function bodyPath(frame: CornerFrame, track: number, per: number): string {
  const side = (track / 2 + frame.tyre * 0.62) * per;
  const roof = track * 0.37 * per;
  const y = (share: number) => (-frame.height * share * per).toFixed(1);
  const x = (v: number) => v.toFixed(1);
  const arch = frame.tyre * 1.35 * per;
  const top = -frame.radius * 2.16 * per;
  const inner = (track / 2) * per - arch;
  // From the sill up the left side, over the roof and down again; the wheels stand in open arches.
  return [
    `M${x(-inner)} ${y(0.16)}`,
    `V${x(top)}H${x(-side)}`,
    `V${y(0.56)}`,
    `C${x(-side)} ${y(0.64)} ${x(-side * 0.94)} ${y(0.66)} ${x(-side * 0.9)} ${y(0.68)}`,
    `L${x(-roof)} ${y(0.97)}`,
    `C${x(-roof * 0.9)} ${y(1)} ${x(roof * 0.9)} ${y(1)} ${x(roof)} ${y(0.97)}`,
    `L${x(side * 0.9)} ${y(0.68)}`,
    `C${x(side * 0.94)} ${y(0.66)} ${x(side)} ${y(0.64)} ${x(side)} ${y(0.56)}`,
    `V${x(top)}H${x(inner)}`,
    `V${y(0.16)}Z`,
  ].join('');
}

/** The rear window, or the windscreen, of the same body. */
export function glassPath(frame: CornerFrame, track: number, per: number): string {
  const side = (track / 2 + frame.tyre * 0.62) * 0.76 * per;
  const roof = track * 0.32 * per;
  return `M${(-side).toFixed(1)} ${(-frame.height * 0.7 * per).toFixed(1)}L${(-roof).toFixed(1)} ${(-frame.height * 0.93 * per).toFixed(1)}H${roof.toFixed(1)}L${side.toFixed(1)} ${(-frame.height * 0.7 * per).toFixed(1)}Z`;
}

/**
 * How a body is put on the drawing: moved by how it stands against the car as it was weighed, and turned about its roll
 * centre by what it rolls, larger by a factor. Angles are in degrees, clockwise as SVG has them: a left turn leans the right side down.
 */
export function leaning(point: CornerPoint, axle: 0 | 1, scale: Scale, larger: number): string {
  const lift = (point.lift[axle] ?? 0) * scale.per;
  const centre = -(point.centres[axle] ?? 0) * scale.per;
  return `translate(${scale.middle} ${(scale.ground - lift).toFixed(2)}) rotate(${(point.roll * larger).toFixed(3)} 0 ${centre.toFixed(2)})`;
}

/** How far a wheel stands over the ground on the drawing, larger by the factor as the lean is; 0 on it. */
export function hanging(point: CornerPoint, wheel: number, per: number, larger: number): number {
  const one = point.wheels[wheel];
  return one?.state === 'air' ? one.gap * per * larger : 0;
}

/** The same from the side; the car looks left, so that a nose that goes down turns against the clock. */
export function diving(point: CornerPoint, per: number, larger: number): { turn: number; lift: number } {
  const front = point.lift[0] ?? 0;
  const rear = point.lift[1] ?? 0;
  return { turn: -point.pitch * larger, lift: ((front + rear) / 2) * per };
}

/** The point of a build that stands nearest to a place on the slider; its last one where it was not held so far. */
export function pointAt(build: CornerBuild, at: number): CornerPoint | null {
  let best: CornerPoint | null = null;
  for (const one of build.points) if (!best || Math.abs(one.at - at) < Math.abs(best.at - at)) best = one;
  return best;
}

/** The greatest load that any wheel of any build has: what the bars under the wheels are measured by. */
export function mostLoad(builds: CornerBuild[]): number {
  return Math.max(1, ...builds.flatMap((one) => one.points.flatMap((p) => p.wheels.map((w) => w.load))));
}

/** Every place that a slider stops at, from the build that was held the farthest; equal steps. */
export function stopsOf(builds: CornerBuild[], most: number): number[] {
  let steps: number[] = [];
  for (const one of builds) {
    const on = one.points.map((p) => p.at).filter((at) => at <= most + 1e-9);
    if ((on.at(-1) ?? -1) > (steps.at(-1) ?? -1)) steps = on;
  }
  return steps;
}
