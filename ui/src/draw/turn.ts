// The size of the figures over the plan drawing: as large as fits beside the car, the same at all four corners.

/** Width of a text of Barlow's semibold, in parts of its size: tabular digits, narrow strokes and blanks. */
export function widthOf(text: string): number {
  let width = 0;
  for (const one of text)
    width += /[\d−-]/.test(one) ? 0.545 : one === ' ' ? 0.21 : /[.,]/.test(one) ? 0.3 : one === '/' ? 0.46 : 0.58;
  return width;
}

/** The greatest size at which every text fits, between a least and a most. */
export function sizeOf(texts: string[], room: number, least: number, most: number): number {
  const widest = Math.max(0, ...texts.map(widthOf));
  const fits = widest > 0 ? room / widest : most;
  return Math.round(Math.max(least, Math.min(most, fits)));
}
