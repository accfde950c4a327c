// The page of corners on the real program: what stands there is what was computed, the slider asks nobody, edits of other
// pages count, and a server that is away is said.
import assert from 'node:assert/strict';
import { mkdtemp, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
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

async function at(from = program, options = {}) {
  const one = await open(browser, options);
  one.asked = [];
  one.page.on('request', (request) => {
    if (request.url().endsWith('/api/corner')) one.asked.push(JSON.parse(request.postData() ?? '{}'));
  });
  await one.page.goto(`${from.address}/jobs/demo/corners`);
  await one.page.locator('.picture .behind svg').first().waitFor();
  return one;
}
const row = (page, name) => page.locator('.wheels tbody tr').filter({ hasText: name });
const settled = async (page) =>
  page.waitForFunction(
    () => ![...document.querySelectorAll('[role=status]')].some((s) => s.textContent === 'working…'),
  );

it('the worst build comes first, and what is drawn of it is what the program computed', async () => {
  const { page, context, asked, faults, outside } = await at();
  const job = await (await fetch(`${program.address}/api/jobs/demo`)).json();
  const answer = await (
    await fetch(`${program.address}/api/corner`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ text: job.text, edits: [], units: 'metric', direction: 'left', driving: 'cornering' }),
    })
  ).json();
  const names = await page.locator('.list .pick b').allInnerTexts();
  assert.deepEqual(
    names,
    answer.builds.map((one) => one.name),
  );
  assert.match(await page.locator('.list li').first().innerText(), /front right stop at 0\.1\d g/);
  assert.equal(await page.locator('.picture output').innerText(), '0.60 g');
  const worst = answer.builds[0];
  const point = worst.points.find((one) => one.shown === '0.60 g');
  for (const wheel of point.wheels) {
    assert.ok(await row(page, worst.name).getByText(wheel.loaded).first().isVisible(), wheel.loaded);
    assert.ok(
      (await page.locator('.behind text').allTextContents()).includes(wheel.loaded),
      `${wheel.loaded} under a wheel`,
    );
  }
  assert.ok((await page.locator('.behind .hit').count()) >= 1, 'a stop that is touched has a mark');
  assert.equal(asked.length, 1);
  assert.deepEqual(faults, []);
  assert.deepEqual(outside, []);
  await context.close();
});

it('the slider moves the car from the keyboard and asks nobody', async () => {
  const { page, context, asked } = await at();
  const slider = page.getByRole('slider');
  const lean = () => page.locator('.behind g[transform]').first().getAttribute('transform');
  await slider.focus();
  const before = await lean();
  const began = asked.length;
  await page.keyboard.press('ArrowRight');
  assert.equal(await page.locator('.picture output').innerText(), '0.62 g');
  assert.notEqual(await lean(), before);
  await page.keyboard.press('Home');
  assert.equal(await page.locator('.picture output').innerText(), '0.00 g');
  assert.match(await lean(), /rotate\(0\.000 /);
  assert.equal(await page.locator('.behind .hit').count(), 0, 'no stop is touched straight ahead');
  await page.keyboard.press('End');
  assert.equal(await page.locator('.picture output').innerText(), '1.00 g');
  assert.match(await slider.getAttribute('aria-valuetext'), /front right .* kg, in the stop/);
  assert.equal(asked.length, began, 'moving it asks the program nothing');
  await context.close();
});

it('the other way, braking, and another load state are asked for and shown', async () => {
  const { page, context, asked } = await at();
  await page.getByLabel('to the', { exact: true }).selectOption('right');
  await page
    .locator('.list')
    .getByText(/front left stop at/)
    .first()
    .waitFor();
  await page.getByLabel('Manoeuvre').selectOption('braking');
  await page.locator('.beside svg').waitFor();
  assert.match(await page.locator('.now').innerText(), /nose down \d/);
  assert.ok(await page.getByLabel('to the', { exact: true }).isDisabled());
  await page.getByLabel('with', { exact: true }).selectOption('holiday');
  await page.getByRole('heading', { name: /Four and luggage/ }).waitFor();
  assert.equal(asked.at(-1).load, 'holiday');
  assert.equal(asked.at(-1).driving, 'braking');
  await context.close();
});

it('figures open their workings, charts give their figures as a table and a file', async () => {
  const { page, context } = await at();
  const figure = page.locator('.cells button.cell').first();
  await figure.click();
  const working = page.getByRole('region', { name: /^Working of/ });
  await working.locator('.equation').waitFor();
  assert.match(await working.locator('.equation').innerText(), /=/);
  await figure.click();
  await working.waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Show working' }).first().click();
  await page.getByRole('region', { name: /^Working of Lateral acceleration/ }).waitFor();

  const roll = page.locator('figure').filter({ has: page.getByRole('heading', { name: 'Roll', exact: true }) });
  await roll.locator('svg.chart-drawing').waitFor();
  assert.ok((await roll.locator('svg.chart-drawing [aria-label]').count()) === 0);
  await roll.getByText('As a table').click();
  await roll.locator('tbody tr').nth(20).waitFor();
  assert.match(await roll.getByRole('list', { name: 'Marks' }).innerText(), /front right stop met/);
  const waiting = page.waitForEvent('download');
  await roll.getByRole('button', { name: 'CSV' }).click();
  const text = await readFile(await (await waiting).path(), 'utf8');
  assert.match(text, /lateral acceleration \[g\]/);
  assert.ok(text.split('\r\n').length > 50);
  await page.getByText('Wheel loads', { exact: true }).click();
  await page.getByRole('heading', { name: 'Rear left, load' }).waitFor();
  await context.close();
});

it('bars come off on the desk, are undone, and what another page changed counts', async () => {
  const { page, context, faults } = await at();
  const rolls = async () => (await row(page, 'Adjustable kit').locator('td').first().innerText()).trim();
  const before = await rolls();
  const bars = page.locator('[data-path="builds.kit.setup.bars"]');
  await bars.selectOption('off');
  await page.waitForFunction(
    (was) =>
      [...document.querySelectorAll('.wheels tbody tr')]
        .find((one) => one.textContent.includes('Adjustable kit'))
        .querySelector('td')
        .textContent.trim() !== was,
    before,
  );
  assert.ok(Number.parseFloat(await rolls()) > Number.parseFloat(before));
  await page.getByRole('button', { name: /Undo/ }).click();
  await page.waitForFunction(
    (was) =>
      [...document.querySelectorAll('.wheels tbody tr')]
        .find((one) => one.textContent.includes('Adjustable kit'))
        .querySelector('td')
        .textContent.trim() === was,
    before,
  );

  await page.getByRole('link', { name: 'Builds' }).click();
  const fold = page.getByRole('button', { name: /Parts and settings/ });
  if ((await fold.getAttribute('aria-expanded')) === 'false') await fold.click();
  await page.getByRole('combobox', { name: /^rear spring, Adjustable kit/ }).selectOption({ value: 'rear-48' });
  await page.getByText('changes not saved').waitFor();
  await page.getByRole('link', { name: 'Corners', exact: true }).click();
  await page.locator('.picture .behind svg').first().waitFor();
  await settled(page);
  await page.waitForFunction(
    (was) =>
      [...document.querySelectorAll('.wheels tbody tr')]
        .find((one) => one.textContent.includes('Adjustable kit'))
        .querySelector('td')
        .textContent.trim() !== was,
    before,
  );
  assert.deepEqual(faults, []);
  await context.close();
});

it('a program that is away is said, and what stood there stays', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'trunnion-journey-'));
  let own = await start({ folder });
  const { port } = own;
  try {
    const { page, context } = await at(own);
    await own.stop();
    await page.getByLabel('to the', { exact: true }).selectOption('right');
    await page
      .locator('.page .trouble')
      .getByText(/does not answer/)
      .waitFor();
    assert.match(await page.locator('.page .trouble').innerText(), /from before/);
    assert.ok(await page.locator('.behind svg').first().isVisible());
    own = await start({ folder, port });
    await page.locator('.page .trouble').getByRole('button', { name: 'Try again' }).click();
    await page
      .locator('.list')
      .getByText(/front left stop at/)
      .first()
      .waitFor();
    assert.equal(await page.locator('.page .trouble').count(), 0);
    await context.close();
  } finally {
    await own.remove();
  }
});

it('is clean to axe in both schemes, fits a tablet, and has targets of 44 pixels', async () => {
  const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  for (const colorScheme of ['light', 'dark']) {
    const { page, context, faults } = await at(program, {
      viewport: { width: 768, height: 1024 },
      colorScheme,
      bypassCSP: true,
    });
    for (const one of await page.locator('details.group').all())
      if ((await one.getAttribute('open')) === null) await one.locator('summary').first().click();
    await page.getByLabel('Manoeuvre').selectOption('both');
    await page.locator('.beside svg').waitFor();
    await page.waitForTimeout(1000);
    await page.evaluate(axe);
    const result = await page.evaluate(() =>
      globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
    );
    assert.ok(result.passes.length > 5);
    assert.deepEqual(
      result.violations.map(
        (v) =>
          `${v.id}: ${v.nodes
            .map((n) => n.target.join(' '))
            .slice(0, 4)
            .join(' | ')}`,
      ),
      [],
    );
    const wide = await page.evaluate(
      () => document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth,
    );
    assert.equal(wide, 0, `${wide} px too wide`);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('main button, main select, main input, main summary')]
        .map((one) => ({ name: one.textContent.trim().slice(0, 30) || one.id, box: one.getBoundingClientRect() }))
        .filter(({ box }) => box.height > 0 && box.height < 43.5)
        .map(({ name, box }) => `${name} ${box.height}`),
    );
    assert.deepEqual(small, []);
    assert.deepEqual(faults, []);
    await context.close();
  }
});
