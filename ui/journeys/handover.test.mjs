// The handover, on the real program: the list is ticked, the sheet leaves its draft, and its files open.
import assert from 'node:assert/strict';
import { readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
let left;
before(async () => {
  program = await start();
  browser = await launch();
  left = (await readFile(new URL('../../shop/sheet/testdata/left.txt', import.meta.url), 'utf8'))
    .split('\n')
    .map((line) => line.split('\t'))
    .filter((one) => one.length === 2)
    .map(([path, value]) => ({ path, value }));
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

const job = async () => (await fetch(`${program.address}/api/jobs/demo`)).json();
/** Saves edits past the page, as another machine of the workshop would. */
async function saved(edits) {
  const { text, revision } = await job();
  const answer = await fetch(`${program.address}/api/jobs/demo`, {
    method: 'PUT',
    headers: { 'Content-Type': 'application/json', 'If-Match': `"${revision}"` },
    body: JSON.stringify({ text, edits, who: 'Tam', why: 'measured after fitting' }),
  });
  assert.equal(answer.status, 200, await answer.text());
}

describe('handover', () => {
  it('is a draft until everything is done; what is ticked is saved, undone, and printed', async () => {
    const { page, context, faults, outside } = await open(browser);
    await saved(left.filter((one) => !one.path.startsWith('handover.checks')));
    await page.goto(`${program.address}/jobs/demo/handover`);
    const state = page.locator('.state');
    await state.getByText('16 things are missing').waitFor();
    const check = (what) => page.locator('fieldset').filter({ has: page.getByText(what, { exact: true }) });
    const hoses = check('Brake hoses free');
    await page.getByLabel('Signed off by').fill('Tam');
    const place = await check('Drop links free over the travel').boundingBox();
    await hoses.getByText('done', { exact: true }).click();
    await state.getByText('15 things are missing').waitFor();
    await hoses.getByText('not done', { exact: true }).click();
    await state.getByText('16 things are missing').waitFor();
    assert.deepEqual(
      await check('Drop links free over the travel').boundingBox(),
      place,
      'the list stays under the finger',
    );
    await page.getByRole('button', { name: /Undo/ }).click();
    await state.getByText('15 things are missing').waitFor();
    for (const box of await hoses.locator('.states label').all()) {
      const size = await box.boundingBox();
      assert.ok(size.height >= 44, 'a target for gloves');
    }
    // Sixteen in less than a minute: what does not apply, what somebody else did, then the rest as one.
    await check('Driver-aid and height sensors').getByText('does not apply', { exact: true }).click();
    const drive = check('Road test, then checked again');
    await drive.getByText('done', { exact: true }).click();
    await drive.getByRole('button', { name: /who, when/ }).click();
    await drive.getByLabel('by').fill('Ines');
    await drive.getByLabel('by').blur();
    await page.getByRole('button', { name: 'All 13 that are left: done' }).click();
    // A line shows its own where it differs.
    await drive.getByRole('button', { name: /: Ines, / }).waitFor();
    await state.getByText('✓ Complete').waitFor();
    assert.ok(await state.getByText('licensed person').isVisible());
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Who').fill('Ines');
    assert.match(await dialog.getByLabel('Why').inputValue(), /^done: .*Brake hoses free.*does not apply: Driver-aid/);
    await dialog.getByRole('button', { name: 'Save' }).click();
    await page.getByText(/^saved /).waitFor();

    const waiting = page.waitForEvent('download');
    await page.getByRole('link', { name: 'PDF', exact: true }).click();
    const file = join(program.folder, 'sheet.pdf');
    await (await waiting).saveAs(file);
    const pdf = await readFile(file);
    assert.equal(pdf.subarray(0, 5).toString(), '%PDF-');
    const pages = pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length;
    assert.ok(pages === 1 || pages === 2, `${pages} pages`);
    const address = `${program.address}/api/jobs/demo/sheet?format=json`;
    const tree = await (await fetch(address)).json();
    assert.equal(tree.draft, false, tree.missing.join('; '));
    assert.match(JSON.stringify(tree), /K-20611/);

    // The page itself prints on one or two pages, read in order.
    const printed = await page.pdf({ format: 'A4' });
    await writeFile(process.env.KEEP ?? join(program.folder, 'page.pdf'), printed);
    const sheets = printed.toString('latin1').match(/\/Type \/Page\b/g)?.length;
    assert.ok(sheets === 1 || sheets === 2, `the page prints on ${sheets} pages`);
    const order = await page
      .locator('article')
      .getByRole('heading')
      .evaluateAll((all) => all.map((one) => one.textContent));
    const at = (title) => order.indexOf(title);
    assert.ok(at('Marl 2.0 estate') === 0 && at('Request and answer') === 1, order.join(' | '));
    assert.ok(at('Heights and corner loads') < at('Presets') && at('Presets') < at('Final checks'));
    assert.ok(at('Signatures') === order.length - 1, order.join(' | '));
    assert.deepEqual(faults, []);
    assert.deepEqual(outside, []);
    await context.close();
  });

  it('takes a preset, a rule and a line, and refuses a bad date with the words of the job file', async () => {
    const { page, context } = await open(browser);
    await page.goto(`${program.address}/jobs/demo/handover`);
    await page.getByRole('heading', { name: 'Presets', exact: true }).first().click();
    await page.getByText('Add a preset').click();
    const form = page.locator('details[open] form').filter({ hasText: 'In the workshop’s words' });
    await form.getByLabel('Called').fill('Track: dry');
    await form.getByLabel('Clicks from closed, front').fill('1');
    await form.getByLabel('rear', { exact: true }).fill('2');
    await form.getByRole('button', { name: 'Add' }).click();
    const paper = page.locator('article');
    await paper.getByRole('rowheader', { name: 'Track: dry' }).waitFor();
    await paper.getByText('1 / 2', { exact: true }).waitFor();
    await page.getByText('Rules, normal behaviour, cautions').click();
    await page.getByText('Add a line').first().click();
    const line = page.locator('details[open] form').filter({ hasText: 'Normal on this car' });
    await line.getByRole('textbox').fill('a hiss: short, at standstill');
    await line.getByRole('button', { name: 'Add' }).click();
    await paper.getByText('a hiss: short, at standstill').waitFor();
    await page.getByText('People, dates, distance').click();
    const kept = () =>
      page.waitForResponse((one) => one.url().endsWith('/draft') && one.request().method() === 'PUT' && one.ok());
    const bad = kept();
    await page.getByLabel('Follow-up check on').fill('next month');
    await page
      .getByRole('alert')
      .getByText(/a date is written/)
      .first()
      .waitFor();
    await bad;

    // No sheet can be made of it; the way to the field stays open, after a reload too.
    await page.reload();
    await page.getByRole('button', { name: 'Go there' }).click();
    await page.waitForFunction(() => document.activeElement?.getAttribute('data-path') === 'handover.recheck.date');
    const good = kept();
    await page.getByLabel('Follow-up check on').fill('2026-12-14');
    await paper.waitFor();
    await good;
    await context.close();
  });

  it('is clean to axe and not too wide', async () => {
    const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    for (const [colorScheme, width] of [
      ['light', 1440],
      ['dark', 768],
    ]) {
      const { page, context } = await open(browser, { colorScheme, viewport: { width, height: 1024 } });
      await page.goto(`${program.address}/jobs/demo/handover`);
      await page.locator('article').waitFor();
      await page.evaluate(axe);
      const found = await page.evaluate(() =>
        globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
      );
      assert.deepEqual(
        found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`),
        [],
      );
      assert.equal(
        await page.evaluate(() => {
          const main = document.querySelector('main');
          return main.scrollWidth - main.clientWidth;
        }),
        0,
      );
      await context.close();
    }
  });
});
