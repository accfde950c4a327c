// The workshop's own shelves, on the real program: people, parts and builds that are kept for the next car.
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { readFile } from 'node:fs/promises';
import { after, before, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
before(async () => {
  program = await start();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

it('keeps a build as a preset and a spring in the catalogue, adds somebody, and refuses what cannot be read', async () => {
  const { page, context, faults, outside } = await open(browser);
  const dialog = page.getByRole('dialog');
  await page.goto(`${program.address}/jobs/demo/builds`);
  await page.getByRole('button', { name: 'Save as preset' }).click();
  await dialog.getByLabel('Name').fill('Hill kit');
  await dialog.getByRole('button', { name: 'Save', exact: true }).click();
  await dialog.getByText('is kept for Marl 2.0 estate').waitFor();
  await dialog.getByRole('button', { name: 'Close' }).click();

  await page.getByRole('link', { name: 'Workshop', exact: true }).click();
  await page.getByText('Hill kit').waitFor();
  await page.getByRole('button', { name: 'Add somebody' }).click();
  await dialog.getByLabel('Name').fill('Tam');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText('bay: readings and rounds').waitFor();

  await page.getByRole('button', { name: 'Change front 46' }).click();
  await dialog.getByLabel(/^Figures/).fill('{rate: 46 N/mm');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog
    .getByRole('alert')
    .getByText(/line 1/i)
    .waitFor();
  await dialog.getByLabel(/^Figures/).fill('{rate: 45.6 N/mm, free: maker 230 mm, block: maker 77 mm}');
  await dialog.getByLabel(/^Why/).fill('weighed it');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText('rate: 45.6 N/mm').waitFor();
  await page.getByText('revision 2').first().waitFor();

  // A maker's list says no currency; one row is none.
  await page.getByRole('button', { name: 'Take in a list' }).click();
  await dialog.getByLabel('The list', { exact: true }).setInputFiles({
    name: 'maker.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('part no;rate [N/mm];free length [mm];price\nC-1;60;250;85,5\nC-2;sixty;250;86\n'),
  });
  await dialog.getByLabel('Code of the currency').fill('eur');
  await dialog.getByRole('button', { name: 'Take this' }).click();
  await dialog.getByText('Line 3 has “sixty”').waitFor();
  await dialog.getByRole('button', { name: 'Take in the rows that can be read' }).click();
  await dialog.getByText('Taken into the catalogue: 1 new.').waitFor();
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.getByText('price: 85.5 EUR').waitFor();

  // One more backup than there are by themselves, made while the page is served.
  const made = page.waitForResponse((one) => one.url().endsWith('/api/backups') && one.request().method() === 'POST');
  await page.getByRole('button', { name: 'Back up now' }).click();
  const kept = await (await made).json();
  await page.getByText(kept.backups[0].file).waitFor();
  await page.getByText('start the program with --backup-to').waitFor();
  const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa'] }));
  assert.deepEqual(
    found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`),
    [],
  );
  assert.deepEqual(faults, []);
  assert.deepEqual(outside, []);
  await context.close();
});
