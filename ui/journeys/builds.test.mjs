// Changing builds on the whole program: what stays in sight, what changed, what is taken back, and that no press is lost.
import assert from 'node:assert/strict';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
let demo;
before(async () => {
  program = await start();
  browser = await launch();
  const list = await (await fetch(`${program.address}/api/jobs?search=`)).json();
  demo = list.jobs.find((one) => one.demo)?.id;
  assert.ok(demo, 'a fresh program has the demo job in it');
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

const sizes = [
  [1440, 900],
  [1024, 768],
  [768, 1024],
];
const click = 'builds.kit.setup.click.front';

async function shown(options = {}) {
  await fetch(`${program.address}/api/jobs/${demo}/draft`, { method: 'DELETE' });
  const one = await open(browser, options);
  await one.page.goto(`${program.address}/jobs/${demo}/builds`);
  await one.page.waitForSelector('.board .finding');
  return one;
}
const partsOpen = async (page) => {
  const fold = page.getByRole('button', { name: /Parts and settings/ });
  if ((await fold.getAttribute('aria-expanded')) === 'false') await fold.click();
};
/** Waits until all of them are whole in the window, with nothing over them. */
const inSight = (page, selector) =>
  page.waitForFunction((what) => {
    const all = [...document.querySelectorAll(what)];
    return (
      all.length > 0 &&
      all.every((one) => {
        const { top, bottom } = one.getBoundingClientRect();
        const middle = one.getBoundingClientRect().left + one.getBoundingClientRect().width / 2;
        const over = document.elementFromPoint(middle, (top + bottom) / 2);
        return top >= 0 && bottom <= innerHeight && (one.contains(over) || over?.contains(one));
      })
    );
  }, selector);

describe('while a build is changed', () => {
  for (const [width, height] of sizes)
    it(`strips begin in the upper third, and stay in sight with the three worst findings, at ${width} by ${height}`, async () => {
      const { page, context, faults } = await shown({ viewport: { width, height } });
      const top = await page
        .locator('.strips .wheels')
        .first()
        .evaluate((one) => one.getBoundingClientRect().top);
      assert.ok(top < height / 3, `strips begin at ${top} of ${height} px`);
      await partsOpen(page);
      assert.equal(await page.locator('.worst').count(), 3);
      const last = page.getByRole('textbox', { name: /^rear packer, Adjustable kit/ });
      await last.scrollIntoViewIfNeeded();
      await last.fill('7 mm');
      await page.locator('.worst .changed, .finding .changed').first().waitFor();
      await inSight(page, '.strips .wheels');
      await inSight(page, '.worst');
      await inSight(page, `[data-path="builds.kit.rear.packer"]`);
      const left = await page.locator('.held').evaluate((one) => innerHeight - one.getBoundingClientRect().bottom);
      assert.ok(left > height * 0.28, `${left} px are left to work in under what is held`);
      assert.deepEqual(faults, []);
      await context.close();
    });

  it('what changed stands beside what it was until the next change, and each change is taken back by itself', async () => {
    const { page, context, faults } = await shown();
    await partsOpen(page);
    const rear = page.getByRole('combobox', { name: /^rear spring, Lower springs, uprated/ });
    const was = await rear.inputValue();
    await rear.selectOption({ value: 'front-46' });
    const changed = page.locator('.finding .changed, .worst .changed');
    await changed.first().waitFor();
    assert.match(await changed.first().innerText(), /→/);
    assert.ok((await page.locator('.wheels .old').count()) > 0, 'the strip says what its figures were');
    const columns = await changed.evaluateAll((all) =>
      all.map((one) => [...one.closest('[role=row]').children].indexOf(one.closest('[role=cell]'))),
    );
    assert.deepEqual([...new Set(columns)], [3], 'only the build that was changed is marked');

    // Another change: the marks of the first are gone, both are in the list.
    await page.getByRole('button', { name: /^front click, Adjustable kit.*softer/ }).click();
    await page.waitForFunction(() =>
      [...document.querySelectorAll('.finding .changed')].every(
        (one) => [...one.closest('[role=row]').children].indexOf(one.closest('[role=cell]')) === 4,
      ),
    );
    // A rate is typed, and is a spring of its own: no other build is moved.
    const rate = page.getByRole('textbox', { name: /^front spring rate, Lower springs, old/ });
    await rate.fill('34');
    await rate.press('Enter');
    await page
      .getByRole('combobox', { name: /^front spring, Lower springs, old/ })
      .getByText('34.0 N/mm')
      .waitFor({ state: 'attached' });
    assert.equal(
      await page.getByRole('textbox', { name: /^front spring rate, Lower springs, upr/ }).inputValue(),
      '31',
    );
    await page.getByRole('button', { name: /Undo/ }).click();
    await page.getByText('changes not saved: 2').click();
    const list = page.getByRole('dialog');
    assert.equal(await list.getByRole('button', { name: /^Take back/ }).count(), 2);
    await list.getByRole('button', { name: /^Take back: rear spring/ }).click();
    await list.getByRole('button', { name: 'Close' }).click();
    await page.waitForFunction(
      (path) => document.querySelector(`[data-path="${path}"]`)?.textContent.startsWith('8'),
      click,
    );
    // The first is taken back and the second stands.
    await page.waitForFunction(
      ([path, value]) => document.querySelector(`select[data-path="${path}"]`)?.value === value,
      ['builds.lower-uprated.rear.spring', was],
    );
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('what no longer fits after something was taken back is said, and it is put back with a press', async () => {
    const { page, context } = await shown();
    await page.getByRole('button', { name: 'Add a build' }).click();
    await page.getByLabel('Name').fill('Tried');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page
      .getByRole('columnheader', { name: /Tried|Builds shown/ })
      .or(page.getByText('Builds shown'))
      .first()
      .waitFor();
    // Five builds: the new one is shown in the place of another.
    await page.getByRole('checkbox', { name: 'As it arrived' }).uncheck();
    await page.getByRole('checkbox', { name: 'Tried' }).check();
    await partsOpen(page);
    await page.getByRole('textbox', { name: /^front packer, Tried/ }).fill('5 mm');
    await page.getByText('changes not saved: 2').click();
    const list = page.getByRole('dialog');
    await list.getByRole('button', { name: /^Take back: new build/ }).click();
    await list
      .getByRole('alert')
      .getByText(/the rest no longer fits/)
      .waitFor();
    await list.getByRole('button', { name: 'Restore' }).click();
    await list.getByRole('alert').waitFor({ state: 'detached' });
    await page.getByText('changes not saved: 2').waitFor();
    await context.close();
  });
});

describe('forty quick presses', () => {
  for (const delay of [0, 50, 150, 600])
    it(`are forty clicks where the program answers ${delay} ms late`, async () => {
      const { page, context, faults } = await shown();
      const tried = [];
      await page.route('**/api/try', async (route) => {
        tried.push(route.request().postDataJSON());
        await new Promise((later) => setTimeout(later, delay));
        await route.continue().catch(() => undefined);
      });
      await partsOpen(page);
      const at = page.locator(`output[data-path="${click}"]`);
      assert.match(await at.innerText(), /^7/);
      // 8 softer to the end at 15, 15 firmer to closed, 12 softer, 3 firmer and 2 softer: forty presses, and 11 from closed.
      await page.evaluate(async () => {
        const button = (way) =>
          document.querySelector(`button[aria-label^="front click, Adjustable kit"][aria-label$="${way}"]`);
        const presses = [
          [8, 'softer'],
          [15, 'firmer'],
          [12, 'softer'],
          [3, 'firmer'],
          [2, 'softer'],
        ];
        for (const [many, way] of presses)
          for (let k = 0; k < many; k++) {
            button(way).click();
            await new Promise((drawn) => requestAnimationFrame(drawn));
          }
      });
      assert.match(await at.innerText(), /^11/, 'the count is ahead of the answer');
      await page.waitForFunction(() => !/working…/.test(document.querySelector('.head').textContent));
      assert.match(await at.innerText(), /^11/, 'and no late answer turns it back');
      const last = tried.filter((one) => !one.full).at(-1);
      assert.deepEqual(
        last.edits
          .filter((one) => one.path === click)
          .map((one) => one.value)
          .at(-1),
        '11',
      );
      assert.ok(tried.length <= 45, `${tried.length} questions were asked`);
      assert.deepEqual(faults, []);
      await page.unrouteAll({ behavior: 'ignoreErrors' });
      await context.close();
    });
});

describe('the way back', () => {
  it('shows the page where it was left, in its load state; an address of no job leads to the jobs', async () => {
    const { page, context, faults } = await shown();
    await page.getByText('Four aboard', { exact: true }).click();
    await page.getByRole('radio', { name: 'Four aboard' }).and(page.locator(':checked')).waitFor({ state: 'attached' });
    await page.locator('main').evaluate((one) => one.scrollTo(0, 700));
    const stands = () =>
      page.waitForFunction(
        () =>
          Math.abs(document.querySelector('main').scrollTop - 700) < 3 &&
          document.querySelector('.loads .on')?.textContent.includes('Four aboard'),
      );
    await page.waitForFunction(() => history.state?.scroll === 700);
    await page
      .getByRole('navigation', { name: 'Pages of the job' })
      .getByRole('link', { name: /^Brief/ })
      .click();
    await page.getByRole('heading', { name: 'Load states' }).waitFor();
    assert.equal(await page.locator('main').evaluate((one) => one.scrollTop), 0);
    await page.goBack();
    await stands();
    await page.reload();
    await stands();
    await page.goto(`${program.address}/jobs/nobody-has-this/builds`);
    await page.getByRole('heading', { name: 'No job at this address' }).waitFor();
    assert.equal(await page.getByRole('navigation', { name: 'Pages of the job' }).count(), 0);
    await page.getByRole('link', { name: 'To the jobs' }).click();
    await page.getByRole('heading', { name: 'Jobs' }).first().waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});
