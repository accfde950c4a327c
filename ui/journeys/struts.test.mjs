// Struts and mounts: the whole program, its page and a browser.
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
let demo;
let bare;
/** A job with every block of this key taken out. */
const without = (text, key) => text.replace(new RegExp(`^( *)${key}:.*\\n(?:\\1 +.*\\n)+`, 'gm'), '');
before(async () => {
  browser = await launch();
  program = await start();
  const example = (name) =>
    readFile(fileURLToPath(new URL(`../../examples/${name}/job.yaml`, import.meta.url)), 'utf8');
  const take = async (text) => {
    const made = await fetch(`${program.address}/api/jobs`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ text }),
    });
    assert.equal(made.status, 201);
    return (await made.json()).id;
  };
  hatch = await take(await example('sedley-hatch'));
  const pointless = without(await example('marl-estate'), 'hardpoints');
  assert.doesNotMatch(pointless, /wheel_centre/);
  bare = await take(pointless);
  demo = (await (await fetch(`${program.address}/api/jobs?search=`)).json()).jobs.find((one) => one.demo).id;
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

async function at(id, options = {}) {
  const one = await open(browser, options);
  await one.page.goto(`${program.address}/jobs/${id}/struts`);
  await one.page.getByRole('heading', { name: /^The linkage, front: / }).waitFor();
  return one;
}
const newtons = (text) => Number(text.replace(/[^\d.]/g, ''));
const force = async (page, k) => newtons(await page.locator('.forces li b').nth(k).innerText());

describe('a strut whose points were measured', () => {
  it('is drawn with its forces, which follow the case, the travel and the wheel’s offset', async () => {
    const { page, context, outside, faults } = await at(hatch);
    await page.getByRole('img', { name: /Kit with inverted struts, from in front/ }).waitFor();
    const standing = await force(page, 2);
    await page.getByLabel('Load case').selectOption('cornering');
    await page.getByRole('heading', { name: /Kit with inverted struts, Outside wheel at 0.9 g/ }).waitFor();
    assert.ok((await force(page, 2)) > 2 * standing, 'the side force of a corner is no greater than standing');

    // The travel by keyboard: the picture moves, the top mount does not.
    const travel = page.getByLabel(/^Wheel travel/).first();
    const arm = page.locator('.strut .arm').first();
    const stood = await arm.getAttribute('d');
    const mount = await page.locator('.strut .mount').first().getAttribute('d');
    const was = await travel.inputValue();
    await travel.focus();
    for (let k = 0; k < 6; k++) await page.keyboard.press('ArrowLeft');
    assert.equal(Number(await travel.inputValue()), Number(was) - 6);
    assert.notEqual(await arm.getAttribute('d'), stood);
    assert.equal(await page.locator('.strut .mount').first().getAttribute('d'), mount);
    await page.getByRole('button', { name: /of the case drawn/ }).click();
    assert.equal(await arm.getAttribute('d'), stood);

    // Further out, standing: more side force, and the table says how much more than as it stands. (In a corner the tyre's
    // side force leans the other way than its load: there it falls.)
    await page.getByLabel('Load case').selectOption('standing');
    await page.getByRole('heading', { name: /Kit with inverted struts, Standing/ }).waitFor();
    const side = () => page.locator('.forces li b').nth(2).innerText();
    const plain = await side();
    const offset = page.getByRole('slider', { name: 'Wheel further out' }).first();
    await offset.focus();
    for (let k = 0; k < 4; k++) await page.keyboard.press('ArrowRight');
    assert.match(await offset.getAttribute('aria-valuetext'), /^\+20/);
    await page
      .getByText(/of as it stands/)
      .first()
      .waitFor();
    await page.waitForFunction(
      (was) => parseFloat(document.querySelectorAll('.forces li b')[2].textContent) > 1.25 * was,
      newtons(plain),
    );
    await page.getByRole('button', { name: 'Wheel further out: back' }).first().click();
    await page
      .getByText(/of as it stands/)
      .first()
      .waitFor({ state: 'detached' });
    assert.equal(await side(), plain);

    // Against the original, and against a limit only where one was stated.
    const table = page.getByRole('region', { name: 'Figures of the case' });
    assert.match(await table.innerText(), /×\s\d\.\d\d of “As it arrived”/);
    assert.match(await table.innerText(), /no limit stated/);
    assert.doesNotMatch(await page.locator('main').innerText(), /\bsafe\b/i);
    await page.getByRole('button', { name: /^As it arrived/ }).click();
    await page.getByRole('img', { name: /As it arrived, from in front/ }).waitFor();
    await page.getByRole('button', { name: 'from the side' }).click();
    await page.getByRole('img', { name: /As it arrived, from the left side/ }).waitFor();
    assert.equal(await page.locator('.sections figure').count(), 2);
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('follows the job on the desk: a measure that is changed changes the bending', async () => {
    const { page, context, faults } = await at(hatch);
    const cell = () =>
      page
        .getByRole('region', { name: 'Figures of the case' })
        .getByRole('row', { name: /^Bending stress/ })
        .innerText();
    const was = await cell();
    const view = await page.evaluate(
      async ({ text }) => {
        const answer = await fetch('/api/struts', {
          method: 'POST',
          headers: { 'Content-Type': 'application/json' },
          body: JSON.stringify({
            text,
            units: 'metric',
            axle: 'front',
            edits: [{ path: 'parts.dampers.old-front.guide.yield', value: '600 MPa' }],
          }),
        });
        return answer.json();
      },
      { text: (await (await fetch(`${program.address}/api/jobs/${hatch}`)).json()).text },
    );
    assert.match(view.figures.find((one) => one.id === 'stress').cases[0][0].limit, /of the yield strength entered/);
    assert.match(was, /yield strength not entered/);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('moves its linkage, says what changes do, and draws it in charts with tables and files', async () => {
    const { page, context, faults } = await at(hatch);
    const camber = () => page.locator('.views .now dd').nth(6).innerText();
    const heads = await page.locator('.views .now dt').allInnerTexts();
    assert.ok(/^Camber/.test(heads[6]), heads.join());
    const was = await camber();
    const travel = page.getByLabel(/^Wheel travel/).nth(1);
    await travel.focus();
    await page.keyboard.press('End');
    assert.notEqual(await camber(), was);
    const plate = page.getByRole('slider', { name: 'Top mount inward' });
    await plate.focus();
    for (let k = 0; k < 3; k++) await page.keyboard.press('ArrowRight');
    const effects = page.getByRole('region', { name: 'Effect of changes on the wheel' });
    await effects.getByText('All that was moved above').waitFor();
    await page.getByText('as changed').first().waitFor();
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.locator('figure', { hasText: 'Camber, top outward' }).getByRole('button', { name: 'CSV' }).click(),
    ]);
    assert.match(await readFile(await file.path(), 'utf8'), /as measured, .*as changed/);

    await page.getByLabel('Axle', { exact: true }).selectOption('rear');
    await page.getByRole('heading', { name: 'The linkage, rear: twist beam' }).waitFor();
    await page.getByText(/it has no strut that carries the wheel sideways/).waitFor();
    await page.getByText(/caster, inclination, scrub radius and trail do not apply/).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('a car without link points', () => {
  it('says what to measure, and shows what its motion table gives', async () => {
    const { page, context, faults } = await at(bare);
    await page
      .getByText(/Nothing is known of the link points of the front axle/)
      .first()
      .waitFor();
    assert.ok((await page.getByText(/centre of the top mount, and a second point/).count()) > 0);
    await page.getByRole('heading', { name: 'Motion ratio', exact: true }).waitFor();
    await page.getByText(/Measured table of the spring/).waitFor();
    assert.equal(await page.locator('.strut').count(), 0);
    const mounts = page.getByRole('region', { name: 'Forces in the upper mounts' });
    assert.ok((await mounts.getByRole('row').count()) > 2);
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('the page', () => {
  it('stands on every size of screen, clean to axe', async () => {
    const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    for (const [width, height, colorScheme, job] of [
      [1440, 900, 'light', hatch],
      [1024, 768, 'dark', hatch],
      [768, 1024, 'light', hatch],
      [400, 800, 'dark', hatch],
      [1024, 768, 'light', demo],
    ]) {
      const { page, context, faults } = await at(job, { viewport: { width, height }, colorScheme, bypassCSP: true });
      // The folds first, then the tables that were in them.
      for (let k = 0; k < 2; k++) {
        await page.evaluate(() =>
          document.querySelectorAll('main details:not([open]) > summary').forEach((one) => one.click()),
        );
        await page.waitForTimeout(500);
      }
      await page.waitForTimeout(900);
      await page.evaluate(axe);
      const result = await page.evaluate(() =>
        globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
      );
      assert.deepEqual(
        result.violations.map(
          (v) =>
            `${width} ${colorScheme} ${v.id}: ${v.nodes
              .map((n) => n.target.join(' '))
              .slice(0, 4)
              .join(' | ')}`,
        ),
        [],
      );
      const wide = await page.evaluate(
        () => document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth,
      );
      assert.equal(wide, 0, `${width}: ${wide} px too wide`);
      assert.deepEqual(faults, []);
      await context.close();
    }
  });
});
