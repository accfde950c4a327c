// Road test: the whole program, its page and a browser.
import assert from 'node:assert/strict';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
let demo;
before(async () => {
  browser = await launch();
  program = await start();
  demo = (await (await fetch(`${program.address}/api/jobs?search=`)).json()).jobs.find((one) => one.demo).id;
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

/** Heavy machines take their time over a drive. */
const long = { timeout: 240_000 };

describe('a log of the kit', () => {
  it('is asked about, held against its prediction, and a correction is taken and undone', async () => {
    const { page, context, outside, faults } = await open(browser);
    await page.goto(`${program.address}/jobs/${demo}/roadtest`);
    await page.getByRole('button', { name: 'Read the invented log of the kit' }).click();
    for (const name of [
      'Bump is positive',
      'The log starts at rest: take it from there',
      '5 s',
      'The damper',
      'Left is positive',
      'Up is positive',
    ])
      await page.getByRole('button', { name, exact: true }).click(long);
    await page.getByRole('combobox', { name: 'Build that was driven' }).selectOption('kit', long);
    const headline = page.getByText(/figures came out as predicted/);
    await headline.waitFor(long);
    assert.match(await headline.textContent(), /^4[01] of 44 figures came out/);
    if (process.env.SHOTS) await page.screenshot({ path: `${process.env.SHOTS}/roadtest-1440.png`, fullPage: true });
    const first = page.getByRole('region', { name: 'Stop gap, front left' });
    assert.match(await first.textContent(), /38\.2 → 3\d\.\d mm/);
    await page.getByRole('button', { name: 'Take Stop gap, front left' }).click();
    await page.getByText('changes not saved').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('changes not saved').waitFor({ state: 'hidden' });
    if (process.env.SHOTS) {
      await page.setViewportSize({ width: 1024, height: 768 });
      await page.screenshot({ path: `${process.env.SHOTS}/roadtest-1024.png`, fullPage: true });
    }
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });
});
