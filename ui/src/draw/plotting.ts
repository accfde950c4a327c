// What the charts use of Observable Plot, in a module of its own: loaded when the first chart is drawn, and no more of it.
export { dot, line, plot, rect, ruleX, ruleY, text } from '@observablehq/plot';
export type { Markish } from '@observablehq/plot';
