/** Where things of a strut or a linkage are drawn. Places and sizes come from the server; nothing is computed here but the picture. */

export type View = 'front' | 'side';
export type Flat = [number, number];

/**
 * A place (x forward, y to the left, z up) in the picture's plane, up positive. The left wheel is seen from in front, its
 * outside to the right, or from the left side, its front to the left.
 */
export const flat = (p: readonly number[], view: View): Flat => [
  view === 'front' ? (p[1] ?? 0) : -(p[0] ?? 0),
  p[2] ?? 0,
];

export interface Fit {
  per: number;
  left: number;
  top: number;
}

/** Puts a cloud of places into a box with margins, to one scale. */
export function fit(
  points: Flat[],
  width: number,
  height: number,
  margin: { x: number; top: number; bottom: number },
  per?: number,
): Fit {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const low = Math.min(...xs);
  const wide = Math.max(1e-9, Math.max(...xs) - low);
  const high = Math.max(...ys);
  const tall = Math.max(1e-9, high - Math.min(...ys));
  const scale = per ?? Math.min((width - 2 * margin.x) / wide, (height - margin.top - margin.bottom) / tall);
  return { per: scale, left: (width - wide * scale) / 2 - low * scale, top: margin.top + high * scale };
}

export const onPaper = (p: Flat, f: Fit): Flat => [f.left + p[0] * f.per, f.top - p[1] * f.per];

/** A place on a line from one place through another, so far along it; length is how far apart they are in space. */
export function along(from: readonly number[], to: readonly number[], length: number, distance: number): number[] {
  const share = length > 0 ? distance / length : 0;
  return [0, 1, 2].map((k) => (from[k] ?? 0) + ((to[k] ?? 0) - (from[k] ?? 0)) * share);
}

export const path = (points: Flat[], closed = false) =>
  points.length < 2
    ? ''
    : `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}${closed ? 'Z' : ''}`;

/** The box of a wheel seen from in front: its plane runs from the hub to the ground. */
export function wheelBox(hub: Flat, contact: Flat, radius: number, width: number): Flat[] {
  const dx = contact[0] - hub[0];
  const dy = contact[1] - hub[1];
  const n = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [(dx / n) * radius, (dy / n) * radius];
  const [vx, vy] = [(-dy / n) * (width / 2), (dx / n) * (width / 2)];
  return [
    [hub[0] - ux - vx, hub[1] - uy - vy],
    [hub[0] - ux + vx, hub[1] - uy + vy],
    [hub[0] + ux + vx, hub[1] + uy + vy],
    [hub[0] + ux - vx, hub[1] + uy - vy],
  ];
}

/** The coils of a spring between two places, seen from beside. */
export function coils(from: Flat, to: Flat, width: number, turns = 6): string {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const n = Math.hypot(dx, dy) || 1;
  const [nx, ny] = [(-dy / n) * (width / 2), (dx / n) * (width / 2)];
  const points: Flat[] = [];
  for (let k = 0; k <= 2 * turns; k++) {
    const t = k / (2 * turns);
    const side = k % 2 === 0 ? 1 : -1;
    points.push([from[0] + dx * t + nx * side, from[1] + dy * t + ny * side]);
  }
  return path(points);
}

export interface Arrow {
  tail: Flat;
  head: Flat;
  barbs: Flat[];
  /** Too short to be seen as an arrow: it points into the paper, or is nothing. */
  dot: boolean;
}

/** An arrow of a force from where it acts; into it where it pushes from outside. On paper, y downward. */
export function arrow(at: Flat, force: Flat, per: number, into = false): Arrow {
  const dx = force[0] * per;
  const dy = -force[1] * per;
  const n = Math.hypot(dx, dy);
  const tail: Flat = into ? [at[0] - dx, at[1] - dy] : at;
  const head: Flat = into ? at : [at[0] + dx, at[1] + dy];
  if (n < 5) return { tail, head, barbs: [], dot: true };
  const size = Math.min(10, n * 0.6);
  const [ux, uy] = [dx / n, dy / n];
  return {
    tail,
    head,
    dot: false,
    barbs: [
      [head[0] - ux * size - uy * size * 0.5, head[1] - uy * size + ux * size * 0.5],
      head,
      [head[0] - ux * size + uy * size * 0.5, head[1] - uy * size - ux * size * 0.5],
    ],
  };
}

/** The shapes of the marks beside a travel slider, about 0 0. */
export const travelMark: Record<string, string> = {
  rest: 'M-6 0H6M0-6V6',
  open: 'M0-6 4 0 0 6-4 0Z',
  touch: 'M0-5.5 5.5 4.5H-5.5Z',
  solid: 'M-4.5-4.5h9v9h-9Z',
  arch: 'M-5 4a5 5 0 0 1 10 0Z',
  case: 'M-4.5-4.5 4.5 4.5M4.5-4.5-4.5 4.5',
};
