export const clamp = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));

/**
 * How far the body is turned on the drawing, in degrees clockwise, from how far it stands above its rest over the front
 * and the rear wheel. The car looks left: a nose that is up turns it clockwise.
 */
export function pitchOf(front: number, rear: number, perUnit: number, base: number): number {
  return (Math.atan2((front - rear) * perUnit, base) * 180) / Math.PI;
}
