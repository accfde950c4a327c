// Dampers: the whole program, its page and a browser.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
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

async function at(options = {}) {
  const one = await open(browser, options);
  await one.page.goto(`${program.address}/jobs/${demo}/dampers`);
  await one.page.getByRole('heading', { name: 'Click map on this car, front' }).waitFor();
  return one;
}
const knob = (page, name) => page.getByRole('slider', { name: new RegExp(`^${name}`) });

describe('the click map', () => {
  it('bends the curve with the knob, says what the click gives, sets it as an edit, and undo takes it back', async () => {
    const { page, context, outside, faults } = await at();
    const front = knob(page, 'Front');
    assert.equal(await front.inputValue(), '7');
    const curve = page.locator('path.chosen').first();
    const stood = await curve.getAttribute('d');
    await front.focus();
    await page.keyboard.press('Home');
    assert.notEqual(await curve.getAttribute('d'), stood);
    assert.match(
      await front.getAttribute('aria-valuetext'),
      /^click 0 from closed\. 455 N in bump and 1120 N in rebound/,
    );
    await page.getByRole('button', { name: 'Front: one click softer' }).click();
    assert.equal(await front.inputValue(), '1');
    await page
      .getByText(/Between clicks measured/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Set these clicks', exact: true }).click();
    await page.getByText('changes not saved').waitFor();
    await page.getByText('as set').nth(1).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.waitForFunction(() => document.querySelector('.knob input').value === '7');
    assert.equal(await curve.getAttribute('d'), stood);

    // The ratio as set opens its working.
    await page.locator('.knob button.cell').first().click();
    await page.locator('.equation').first().waitFor();

    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'CSV' }).first().click(),
    ]);
    assert.match(await readFile(await file.path(), 'utf8'), /7,130,305,690,yes/);
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('says what a build without clicks lacks, and where it is typed', async () => {
    const { page, context, faults } = await at();
    await page.getByLabel('Build', { exact: true }).selectOption({ label: 'As it arrived' });
    await page.getByText(/old-front: the number of clicks from closed to open/).waitFor();
    await page.getByRole('button', { name: 'Go there' }).waitFor();
    assert.equal(await page.locator('.knob').count(), 0);
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('presets', () => {
  it('are found, shown on the knob, and taken over as an edit that undo takes back', async () => {
    const { page, context, faults } = await at();
    const card = page.locator('ol li', { has: page.getByRole('heading', { name: /^Motorway/ }) });
    await card.waitFor();
    const [front, rear] = await card.locator('.clicks b').allInnerTexts();
    await card.getByRole('button', { name: /^Show/ }).click();
    assert.equal(await knob(page, 'Front').inputValue(), front);
    assert.equal(await knob(page, 'Rear').inputValue(), rear);
    await page.getByText(`Driven at front ${front}, rear ${rear}.`).waitFor();
    await card.getByRole('button', { name: /^Set these clicks/ }).click();
    await card.getByText('set now').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await card.getByText('set now').waitFor({ state: 'detached' });
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('the target for the builder', () => {
  it('follows what is wanted, refuses what no damper can be, and is downloaded', async () => {
    const { page, context, faults } = await at();
    await page.getByRole('heading', { name: /^Front, both sides alike, in place of kit-front/ }).waitFor();
    const field = page.getByLabel('Ratio up to the knee, hardest click');
    await field.fill('0,8');
    await field.blur();
    await page.getByText('0.80, 0.28').first().waitFor();
    for (const [format, starts] of [
      ['PDF', '%PDF-'],
      ['XLSX', 'PK'],
      ['CSV', 'damper,click'],
    ]) {
      const [file] = await Promise.all([
        page.waitForEvent('download'),
        page.locator('.row', { hasText: 'Order sheet:' }).getByRole('button', { name: format, exact: true }).click(),
      ]);
      assert.ok((await readFile(await file.path(), 'latin1')).startsWith(starts), format);
    }
    const high = page.getByLabel('Ratio at high velocity, hardest click');
    await high.fill('0.01');
    await high.blur();
    await page.getByText(/too low for this knee: force would fall above it|hardest click not below/).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('sweeps', () => {
  it('that do not say all are asked about with a picture, are held as a pair, and taken into the job', async () => {
    const { page, context, outside, faults } = await at();
    await page.getByRole('button', { name: 'rear pair, full loops' }).click();
    await page.getByText('Which sign has the force in compression?').waitFor();
    await page.getByRole('img', { name: 'Force upward is extension' }).waitFor();
    await page.getByRole('button', { name: 'Compression is negative' }).click();
    await page.getByRole('button', { name: 'Counted from closed' }).click();
    const pair = page.getByRole('region', { name: 'rear-left and rear-right' });
    await pair.getByText(/^Not a pair: rear-left is [89]\.\d % \(\d+ N\) firmer than rear-right/).waitFor();

    await page.getByLabel('Take rear-left in as').selectOption('kit-rear');
    await page.getByRole('button', { name: 'Take in rear-left' }).click();
    await page.getByText('changes not saved').waitFor();
    await page.getByRole('button', { name: 'Rear', exact: true }).click();
    await page.getByText(/^Curves read from rear-left in loops-rear\.csv, taken in on /).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('Curves as typed in the job.').waitFor();

    // The answers are kept for the next files of the source.
    await page.getByRole('button', { name: 'rear pair, full loops' }).click();
    await page.getByRole('button', { name: 'Answer as the last time' }).click();
    await pair.waitFor();

    const order = ['damper,click,stroke,speed mm/s,force N,least N,most N', 'rear,7,rebound,130,400,380,420', ''].join(
      '\n',
    );
    await page
      .locator('input[accept=".csv"]')
      .setInputFiles({ name: 'order.csv', mimeType: 'text/csv', buffer: Buffer.from(order) });
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    await page.getByText(/^Returned: rear-left is not what was ordered/).waitFor();
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('that cannot be read are refused with the line and what to do; the rest is offered', async () => {
    const { page, context, faults } = await at();
    const take = (name, text) =>
      page
        .locator('input[type=file][multiple]')
        .setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
    await take('note.csv', 'nothing of a sweep\n');
    await page.getByText(/note\.csv: .+; .+\./).waitFor();
    await take('peaks.csv', 'Velocity;Bump;Rebound\nmm/s;N;N\n50;100;200\n130;abc;400\n260;345;640\n520;545;975\n');
    await page.getByText('Is the gas still in these forces?').waitFor();
    await page.getByRole('button', { name: 'Gas is taken off' }).click();
    await page.getByRole('button', { name: 'Friction is taken off' }).click();
    await page.getByRole('region', { name: 'peaks', exact: true }).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('the page', () => {
  it('stands on every size of screen, clean to axe', async () => {
    const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    const clean = async (page, when) => {
      await page.evaluate(axe);
      const result = await page.evaluate(() =>
        globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
      );
      const said = result.violations.map(
        (v) =>
          `${when} ${v.id}: ${v.nodes
            .slice(0, 4)
            .map((n) => n.target.join(' '))
            .join(' | ')}`,
      );
      assert.deepEqual(said, []);
    };
    for (const [width, height, colorScheme] of [
      [1440, 900, 'light'],
      [768, 1024, 'dark'],
      [400, 800, 'light'],
    ]) {
      const { page, context, faults } = await at({ viewport: { width, height }, colorScheme, bypassCSP: true });
      await page.getByRole('heading', { name: 'Presets found' }).waitFor();
      await page.getByRole('heading', { name: /^Front, both sides alike/ }).waitFor();
      await page.evaluate(() =>
        document.querySelectorAll('main details:not([open]) > summary').forEach((one) => one.click()),
      );
      await page.getByRole('region', { name: /^Every click/ }).waitFor();
      await page.getByRole('button', { name: 'rear pair, full loops' }).click();
      await page.getByRole('button', { name: 'Compression is negative' }).waitFor();
      await clean(page, `${width} ${colorScheme}, asked`);
      await page.getByRole('button', { name: 'Compression is negative' }).click();
      await page.getByRole('button', { name: 'Counted from closed' }).click();
      await page.getByRole('region', { name: 'rear-left and rear-right' }).waitFor();
      await clean(page, `${width} ${colorScheme}`);
      const wide = await page.evaluate(
        () => document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth,
      );
      assert.equal(wide, 0, `${width}: ${wide} px too wide`);
      assert.deepEqual(faults, []);
      await context.close();
    }
  });
});
