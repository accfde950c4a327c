// The car on the scales: the whole program, its page and a browser the size of the tablet beside the car.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

// The demo's kit at its start marks, driver aboard, bars off.
const loads = ['431.8', '464.7', '327.3', '321.2'];
const heights = ['350.1', '345.0', '357.9', '355.1'];
const tablet = { width: 1024, height: 768 };

let browser;
before(async () => {
  browser = await launch();
});
after(async () => {
  await browser?.close();
});

const demoOf = async (program) =>
  (await (await fetch(`${program.address}/api/jobs?search=`)).json()).jobs.find((one) => one.demo).id;

async function at(program, options = {}) {
  const one = await open(browser, { viewport: tablet, ...options });
  one.id = await demoOf(program);
  await one.page.goto(`${program.address}/jobs/${one.id}/scales`);
  await one.page.waitForSelector('.plan [data-corner]');
  return one;
}
const field = (page, place) => page.locator(`[data-place="${place}"]`);
async function type(page, first = loads[0]) {
  await field(page, 'loads.0').click();
  for (const text of [first, ...loads.slice(1), ...heights]) {
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  }
}
const figures = (page) => page.locator('.work .plan .figure text');
const rounds = (page) => page.locator('[data-round]');
const name = async (page, who) => {
  const box = page.getByLabel('Who', { exact: true });
  if ((await box.count()) > 0) await box.fill(who);
};

describe('readings at the car', () => {
  let program;
  before(async () => {
    program = await start();
  });
  after(async () => program?.remove());

  it('are typed on the pad, answer at once with turns that are read from the floor, and are a round that can be undone', async () => {
    const { page, context, outside, faults } = await at(program);
    assert.match(await page.getByLabel('Build on the scales').locator('option:checked').innerText(), /kit/);

    // Nothing is turned before a reading has passed: not from a distance, not in a sentence, in no size of type.
    const noTurn = async (where) => {
      assert.equal(await page.locator('.figure text').count(), 0, `${where}: a turn in large type`);
      assert.doesNotMatch(await page.locator('main').innerText(), /\bturns? (up|down)\b|clockwise/, where);
    };
    assert.match(await page.locator('.work .now-do').innerText(), /Weigh the car/);
    await noTurn('before anything was typed');
    await page.getByRole('button', { name: 'Read from a distance' }).click();
    assert.match(await page.locator('dialog .now-do').innerText(), /Weigh the car/);
    await noTurn('from a distance');
    await page.keyboard.press('Escape');
    // The round can be saved from the first screen.
    for (const viewport of [{ width: 768, height: 1024 }, tablet]) {
      await page.setViewportSize(viewport);
      const button = await page.getByRole('button', { name: 'Save round' }).boundingBox();
      assert.ok(button.y + button.height <= viewport.height, `it ends at ${button.y + button.height} px`);
    }

    // Keys for gloves.
    for (const key of await page.locator('.pad button').all()) {
      const box = await key.boundingBox();
      assert.ok(box.width >= 64 && box.height >= 64, `a key is ${box.width} by ${box.height} px`);
    }
    // The first four figures with the thumb: the pad walks front left, front right, rear left, rear right.
    await field(page, 'loads.0').click();
    const pad = page.getByRole('group', { name: 'Number pad' });
    for (const text of loads) {
      for (const one of text)
        await pad.getByRole('button', { name: one === '.' ? 'Decimal point' : one, exact: true }).click();
      await pad.getByRole('button', { name: /^Next/ }).click();
    }
    for (const [k, text] of loads.entries()) {
      await page.getByRole('button', { name: /^Loads/ }).click();
      assert.equal(await field(page, `loads.${k}`).inputValue(), text);
    }
    await page.waitForFunction(() => /431\.8/.test(document.querySelector('[data-corner=front-left]').textContent));
    await noTurn('with the heights not read');
    // The rest on a keyboard; what is typed stays as it was typed.
    await page.getByRole('button', { name: /^Heights/ }).click();
    for (const text of heights) {
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    }
    assert.equal(await field(page, 'heights.1').inputValue(), '345.0');
    await page.waitForFunction(
      () =>
        document.querySelectorAll('.work .plan .figure text').length > 0 &&
        /431\.8/.test(document.querySelector('[data-corner=front-left]').textContent),
    );

    // The figures themselves, not the boxes around them: the height of a printed digit.
    const high = await page.evaluate(() =>
      [...document.querySelectorAll('.work .plan .figure text')].map((one) => {
        const style = getComputedStyle(one);
        const brush = document.createElement('canvas').getContext('2d');
        brush.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
        return brush.measureText('1').actualBoundingBoxAscent;
      }),
    );
    for (const one of high) assert.ok(one >= 72, `a figure is ${one} px high`);

    // Left is left: every corner stands on its side, and says which way round.
    const box = async (corner) => page.locator(`.work [data-corner=${corner}]`).boundingBox();
    const [fl, fr, rl, rr] = await Promise.all(['front-left', 'front-right', 'rear-left', 'rear-right'].map(box));
    assert.ok(fl.x < fr.x && rl.x < rr.x && fl.y < rl.y && fr.y < rr.y);
    const rear = await page.locator('.work [data-corner=rear-right]').innerText();
    assert.match(rear, /turns? (up|down)/);
    assert.match(rear, /clockwise/);
    // Nothing of the move is cut off, and nothing lies over another thing.
    const plan = await page.locator('.work .plan').boundingBox();
    for (const one of await figures(page).all()) {
      const f = await one.boundingBox();
      assert.ok(f.x >= plan.x - 4 && f.x + f.width <= plan.x + plan.width + 4, 'a figure leaves the drawing');
    }
    assert.match(await page.locator('.work .cross').innerText(), /51\.\d.*→.*\d/s);

    await name(page, 'Tam');
    await page.getByRole('button', { name: 'Save round' }).click();
    await rounds(page).first().waitFor();
    assert.equal(await rounds(page).count(), 1);
    await page.getByRole('button', { name: /^Loads/ }).click();
    assert.equal(await field(page, 'loads.0').inputValue(), '', 'the fields are free for the next round');

    // Undo: the round stays to be seen, struck out, and its figures are back.
    await page.getByRole('button', { name: /^Undo (this|the last) round/ }).click();
    await page.getByText('withdrawn').first().waitFor();
    assert.equal(await rounds(page).count(), 1);
    assert.equal(await field(page, 'loads.0').inputValue(), loads[0]);
    await page.getByRole('button', { name: 'Save round' }).click();
    await page.waitForFunction(() => document.querySelectorAll('[data-round]').length === 2);
    await page.reload();
    await rounds(page).nth(1).waitFor();
    assert.equal(await page.locator('[data-round].gone').count(), 1);
    assert.deepEqual(outside, []);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('go into the job as a change of the desk, which can be undone and saved', async () => {
    const { page, context, faults } = await at(program);
    await page.getByRole('button', { name: 'Write these readings into the job' }).click();
    await page.getByText(/changes not saved/).waitFor();
    await page.getByRole('button', { name: '↶ Undo' }).click();
    await page.getByText(/changes not saved/).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Write these readings into the job' }).click();
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Who').fill('Tam');
    await dialog.getByLabel('Why').fill('after the scales');
    await dialog.getByRole('button', { name: 'Save' }).click();
    await page.getByText(/^saved /).waitFor();
    assert.equal(await page.getByRole('alert').count(), 0);
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('that cannot be right are stopped, with the reason in figures and no turns at all', async () => {
    const { page, context } = await at(program);
    await type(page);
    await page.waitForFunction(() => document.querySelectorAll('.work .plan .figure text').length > 0);
    await page.getByRole('button', { name: /^Heights/ }).click();
    await field(page, 'heights.2').fill('657.9'); // from the floor
    const gate = page.locator('.gate');
    await gate.getByText('Stop', { exact: true }).waitFor();
    assert.match(await gate.innerText(), /657\.9|658/);
    assert.equal(await page.locator('.plan .figure, .plan .way, .plan .leave').count(), 0);
    await field(page, 'heights.2').fill(heights[2]);
    await page.waitForFunction(() => document.querySelectorAll('.work .plan .figure text').length > 0);
    await context.close();
  });

  it('that do not go with the others are named by their corner and by the slip, and can be corrected, read again or said to be right', async () => {
    const own = await start();
    const { page, context } = await at(own);
    await type(page, '4318');
    const gate = page.locator('.gate');
    await gate.getByText(/The decimal point slipped at front left/).waitFor();
    assert.equal(await page.locator('.plan .figure, .plan .way').count(), 0);
    assert.match(await page.locator('.work .now-do').innerText(), /Read front left again/);
    await gate.getByRole('button', { name: /^Yes, correct it.*front left/ }).click();
    await page.waitForFunction(() => document.querySelectorAll('.work .plan .figure text').length > 0);
    await page.getByRole('button', { name: /^Loads/ }).click();
    assert.match(await field(page, 'loads.0').inputValue(), /^431\.8/);
    // One height 20 mm off: a twist that this frame does not have.
    await page.getByRole('button', { name: /^Heights/ }).click();
    await field(page, 'heights.3').fill('375.1');
    await gate
      .getByText(/Rear right reads a height of 375.1 mm/)
      .first()
      .waitFor();
    assert.match(await gate.innerText(), /standard deviations off/);
    assert.equal(await page.locator('.plan .figure, .plan .way').count(), 0);
    await gate.getByRole('button', { name: 'Read it again' }).click();
    await page.waitForFunction(() => document.activeElement?.dataset.place === 'heights.3');
    await gate.getByRole('button', { name: 'It is right' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.work .plan .figure text').length > 0);
    // What is typed after it was not confirmed.
    await field(page, 'heights.3').fill('385.1');
    await gate
      .getByText(/Rear right reads a height of 385.1 mm/)
      .first()
      .waitFor();
    // Emptying a group empties that group, and can be undone.
    await page.getByRole('button', { name: 'Empty these four' }).click();
    assert.equal(await field(page, 'heights.3').inputValue(), '');
    await page.getByRole('button', { name: /^Loads/ }).click();
    assert.match(await field(page, 'loads.0').inputValue(), /^431\.8/);
    await page.getByRole('button', { name: 'Restore' }).click();
    await page.getByRole('button', { name: /^Heights/ }).click();
    assert.equal(await field(page, 'heights.3').inputValue(), '385.1');
    await context.close();
    await own.remove();
  });

  it('of an axle raised give the height of the centre of gravity, which goes into the job', async () => {
    const { page, context, faults } = await at(program);
    await page.getByText('Height of the centre of gravity, one axle raised').click();
    await page.getByLabel('On the axle that stays, all wheels level [kg]').fill('780');
    await page.getByText(/No height yet/).waitFor();
    await page.getByLabel('On the same axle, the other one raised [kg]').fill('795 ± 0.5 kg');
    await page.getByLabel('Wheel centres raised by [mm]').fill('450');
    await page.getByLabel('Wheel centres over the ground, level [mm]').fill('310');
    await page.getByText(/The centre of gravity stands \d+/).waitFor();
    await page.getByRole('button', { name: 'Write the height into the job' }).click();
    await page.getByText(/changes not saved/).waitFor();
    await page.getByRole('button', { name: '↶ Undo' }).click();
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('of one tablet stand on the second by an event, without its asking', async () => {
    const one = await at(program);
    const two = await at(program);
    const before = await rounds(two.page).count();
    // The second asks only when it is told: what it would ask by itself every 20 s is cut off.
    const asked = [];
    two.page.on('request', (request) => {
      if (request.url().endsWith('/scales/next')) asked.push(Date.now());
    });
    await type(one.page);
    await name(one.page, 'Tam');
    const saved = Date.now();
    await one.page.getByRole('button', { name: 'Save round' }).click();
    await rounds(two.page).nth(before).waitFor();
    console.log(
      `the second tablet had the round ${Date.now() - saved} ms after it was saved, by ${asked.length} question`,
    );
    await one.page.getByRole('button', { name: /^Undo (this|the last) round/ }).click();
    await two.page.locator('[data-round].gone').nth(1).waitFor();
    await one.context.close();
    await two.context.close();
  });

  it('that make no sense are said at their field, and stay as they were typed', async () => {
    const { page, context } = await at(program);
    await type(page, '43x.8');
    await page.getByRole('button', { name: /^Loads/ }).click();
    await page.waitForFunction(
      () => document.querySelector('[data-place="loads.0"]').getAttribute('aria-invalid') === 'true',
    );
    assert.equal(await field(page, 'loads.0').inputValue(), '43x.8');
    await context.close();
  });

  it('come as pasted text too', async () => {
    const { page, context } = await at(program);
    await page.getByRole('button', { name: 'Paste or file' }).click();
    const dialog = page.getByRole('dialog', { name: 'Readings from a text' });
    const box = dialog.getByRole('textbox');
    await box.fill('load: 431.8 464.7 kg');
    await dialog.getByRole('button', { name: 'Read', exact: true }).click();
    await dialog.getByRole('alert').waitFor();
    await box.fill(`load: ${loads.join(' ')} kg\nheight: ${heights.join(' ')} mm\nsettled: yes\nbars: off\n`);
    await dialog.getByRole('button', { name: 'Read', exact: true }).click();
    await dialog.getByRole('button', { name: 'Into the fields' }).click();
    await dialog.waitFor({ state: 'hidden' });
    await page.getByRole('button', { name: /^Loads/ }).click();
    assert.match(await field(page, 'loads.0').inputValue(), /431\.8/);
    await context.close();
  });

  it('stand on every size of screen, from the floor too, clean to axe', async () => {
    const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
    for (const [width, height, colorScheme] of [
      [1440, 900, 'light'],
      [1024, 768, 'dark'],
      [768, 1024, 'light'],
      [400, 800, 'light'],
    ]) {
      const { page, context, faults } = await at(program, {
        viewport: { width, height },
        colorScheme,
        bypassCSP: true,
      });
      await type(page);
      await page.waitForFunction(() => document.querySelectorAll('.work .plan .figure text').length > 0);
      for (const fold of await page.locator('details.fold > summary').all()) await fold.click();
      await page.waitForTimeout(700);
      await page.evaluate(axe);
      const look = async (where) => {
        const result = await page.evaluate(() =>
          globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
        );
        assert.deepEqual(
          result.violations.map(
            (v) =>
              `${width} ${where} ${v.id}: ${v.nodes
                .map((n) => n.target.join(' '))
                .slice(0, 4)
                .join(' | ')}`,
          ),
          [],
        );
      };
      await look('page');
      const wide = await page.evaluate(
        () => document.querySelector('main').scrollWidth - document.querySelector('main').clientWidth,
      );
      assert.equal(wide, 0, `${width}: ${wide} px too wide`);
      await page.getByRole('button', { name: 'Read from a distance' }).click();
      await page.locator('dialog .figure text').first().waitFor();
      await page.waitForTimeout(300);
      const tall = await page.evaluate(() => {
        const box = document.querySelector('dialog[open]');
        return [box.scrollWidth - box.clientWidth, box.scrollHeight - box.clientHeight];
      });
      assert.equal(tall[0], 0, `from the floor ${width}: ${tall[0]} px too wide`);
      if (width >= 768) assert.equal(tall[1], 0, `from the floor ${width}: ${tall[1]} px too tall`);
      await look('floor');
      await page.keyboard.press('Escape');
      await page.locator('dialog .figure text').first().waitFor({ state: 'detached' });
      assert.deepEqual(faults, []);
      await context.close();
    }
  });
});

describe('a program that goes away from the scales', () => {
  it('loses no figure and no round, and doubles none when it is back', async () => {
    let own = await start();
    const { folder, port } = own;
    try {
      const { page, context, id } = await at(own);
      const kept = async () => {
        const answer = await fetch(`${own.address}/api/jobs/${id}/scales`);
        return (await answer.json()).rounds;
      };
      await type(page);
      await name(page, 'Tam');
      await own.stop();
      await page.getByRole('button', { name: /^Loads/ }).click();
      await field(page, 'loads.3').fill('321.4');
      await page
        .getByText(/No answer from the workshop/)
        .first()
        .waitFor();
      // The turns from before this reading may have been made: they are not shown again until there is an answer to it.
      await page.waitForFunction(() => document.querySelectorAll('.plan .figure').length === 0);
      await page.getByRole('button', { name: 'Save round' }).click();
      await page
        .getByText(/Waiting to be sent/i)
        .first()
        .waitFor();

      // It is back, but hears nothing of the scales yet: a page that is loaded anew still has the round.
      await page.route(/\/scales/, (route) =>
        route.request().resourceType() === 'fetch' ? route.abort() : route.continue(),
      );
      own = await start({ folder, port });
      await page.reload();
      await page
        .getByText(/Waiting to be sent/i)
        .first()
        .waitFor();
      assert.deepEqual(await kept(), []);

      // The round arrives, its answer does not: it is sent again, and kept once.
      let arrived = 0;
      await page.unroute(/\/scales/);
      await page.route(/\/scales\/rounds$/, async (route) => {
        if (++arrived > 1) return route.continue();
        await route.fetch();
        await route.abort();
      });
      await page.waitForFunction(() => document.querySelectorAll('[data-round]').length === 1, null, {
        timeout: 120_000,
      });
      await page.getByText(/Waiting to be sent/i).waitFor({ state: 'detached' });
      // A round that stands in the list is no longer told to wait, whichever answer brought it.
      await page.waitForFunction(
        () => !Object.keys(localStorage).some((key) => key.startsWith('trunnion.scales.waiting.')),
        null,
        { timeout: 120_000 },
      );
      assert.ok(arrived >= 2, 'the round was sent again');
      const list = await kept();
      assert.equal(list.length, 1);
      assert.match(list[0].loads[3], /321\.4/);
      await page.reload();
      await rounds(page).first().waitFor();
      assert.equal(await rounds(page).count(), 1);
      await context.close();
    } finally {
      await own.remove();
    }
  });
});
