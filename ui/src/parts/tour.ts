import type { Face } from '../state/route';

/** The way round the demo job: what is said, where, and what is pointed at. */
export const steps: { face: Face; at: string; title: string; text: string }[] = [
  {
    face: 'builds',
    at: '[data-tour="strips"]',
    title: 'Where the wheels are',
    text: 'Each upright is one wheel’s travel, standing where the wheel stands. The thick line is where the car sits; above it is the bump travel left to the stop.',
  },
  {
    face: 'builds',
    at: '[data-tour="loads"]',
    title: 'Put four people in it',
    text: 'Choose “Four aboard” and watch the second build: its rear lines go into the dotted stop.',
  },
  {
    face: 'builds',
    at: '[data-tour="findings"]',
    title: 'The worst comes first',
    text: 'Each row is one thing that was found, in every build. Press a figure: its working opens under it, with its inputs and their sources.',
  },
  {
    face: 'builds',
    at: '[data-tour="parts"]',
    title: 'Change something',
    text: 'Open the parts, choose another spring or turn a click; or pull a thick line. Every build answers at once, nothing is saved, and Undo takes it back.',
  },
  {
    face: 'car',
    at: '[data-tour="plan"]',
    title: 'What was measured',
    text: 'Readings stand where they were taken. Dashed means not measured: filled in, and marked as such in every number based on it.',
  },
  {
    face: 'road',
    at: '[data-tour="road"]',
    title: 'Over the pothole',
    text: 'Choose an event and a speed, and play it as slowly as you like. Then start from your own car: twelve figures are enough.',
  },
];
