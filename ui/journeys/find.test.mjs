// Find a build: the whole program, its page and a browser.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import { fileURLToPath } from 'node:url';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
let hatch;
before(async () => {
  browser = await launch();
  program = await start();
  const text = await readFile(fileURLToPath(new URL('../../examples/sedley-hatch/job.yaml', import.meta.url)), 'utf8');
  const made = await fetch(`${program.address}/api/jobs`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ text }),
  });
  assert.equal(made.status, 201);
  hatch = (await made.json()).id;
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

describe('a search', () => {
  it('goes on over a reload, shows its plans, sorts by the notches, and a plan stands in Builds', async () => {
    const { page, context, outside, faults } = await open(browser, { bypassCSP: true });
    await page.goto(`${program.address}/jobs/${hatch}/find`);
    await page.getByText('No search yet.').waitFor();
    await page.getByLabel('Effort').selectOption('quick');
    for (const part of ['Springs', 'Stops', 'Packers']) await page.getByLabel(part, { exact: true }).uncheck();
    await page.getByRole('button', { name: 'Search', exact: true }).click();
    await page.getByRole('progressbar').waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'Put into Builds', exact: true }).first().waitFor();

    // The funnel narrows, and each limit says what it removes.
    assert.match(await page.getByRole('list', { name: /^From all that can be made/ }).innerText(), /Statics and seats/);
    await page
      .getByText(/^removes /)
      .first()
      .waitFor();
    // A notch sorts at once, with no search.
    const first = () => page.locator('.ranked li b').first().innerText();
    const was = await first();
    await page.getByLabel('Comfort on the brief’s roads').fill('0');
    await page.getByLabel('Few hours of work').fill('4');
    assert.ok((await first()).length > 0, `nothing is sorted first; it was ${was}`);
    assert.equal(await page.getByRole('progressbar').count(), 0);

    const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    await page.evaluate(axe);
    for (const width of [1440, 1024, 768, 400]) {
      await page.setViewportSize({ width, height: 900 });
      const result = await page.evaluate(() =>
        globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
      );
      assert.deepEqual(
        result.violations.map(
          (v) =>
            `${width} ${v.id}: ${v.nodes
              .map((n) => n.target.join(' '))
              .slice(0, 4)
              .join(' | ')}`,
        ),
        [],
      );
      const wide = await page.evaluate(
        () => document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth,
      );
      assert.ok(wide <= 0, `${width}: ${wide} px wider than the page`);
    }
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.getByRole('button', { name: 'Put into Builds', exact: true }).first().click();
    await page.getByRole('link', { name: /^Builds/ }).click();
    await page
      .getByText(/^(Most|Least) /)
      .first()
      .waitFor();
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('is stopped by a press and can begin anew', async () => {
    const { page, context } = await open(browser);
    await page.goto(`${program.address}/jobs/${hatch}/find`);
    await page.getByRole('button', { name: /^Search/ }).click();
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByText('The search was stopped.').waitFor();
    await page.getByRole('button', { name: 'Search again' }).waitFor();
    await context.close();
  });
});
