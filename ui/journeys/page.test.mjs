// The built page alone, on sample data behind a stand-in for the server: what has to hold on every page at every size.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import { launch, open, until } from './browser.mjs';
import { sampleApi } from './sample.mjs';
import { serve } from './still.mjs';

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const paths = [
  '/jobs',
  '/new',
  '/jobs/0042/brief',
  '/jobs/0042/car',
  '/jobs/0042/parts',
  '/jobs/0042/builds',
  '/jobs/0042/road',
  '/jobs/0042/order',
  '/jobs/0042/history',
  '/components',
  '/no/such/page',
];
const sizes = [
  { width: 1440, height: 900 },
  { width: 1024, height: 768 },
  { width: 768, height: 1024 },
];

let browser;
let still;
let sample;
before(async () => {
  const both = await sampleApi();
  sample = both.sample;
  still = await serve(both.api);
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await still?.close();
});

async function visit(path, options) {
  const one = await open(browser, options);
  await one.page.goto(still.address + path);
  await one.page.waitForSelector('h1, h2');
  await one.page.waitForTimeout(path.endsWith('road') || path === '/components' ? 1200 : 250);
  return one;
}

describe('every page', () => {
  for (const colorScheme of ['light', 'dark']) {
    it(`is clean to axe, asks nobody outside and has no fault, ${colorScheme}`, async () => {
      const all = [];
      for (const path of paths) {
        const { page, context, outside, faults } = await visit(path, { colorScheme, bypassCSP: true });
        await page.evaluate(axe);
        const result = await page.evaluate(() =>
          globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }),
        );
        assert.ok(result.passes.length > 5, `${path}: axe looked at nothing`);
        all.push(
          ...result.violations.map(
            (v) =>
              `${path} ${v.id}: ${v.nodes
                .map((n) => n.target.join(' '))
                .slice(0, 4)
                .join(' | ')}`,
          ),
          ...outside,
          ...faults,
        );
        await context.close();
      }
      assert.deepEqual(all, []);
    });
  }

  it('keeps to the strict content policy', async () => {
    for (const path of paths) {
      const { context, faults } = await visit(path);
      assert.deepEqual(faults, [], path);
      await context.close();
    }
  });

  for (const viewport of sizes) {
    it(`fits ${viewport.width} px, with targets a finger can hit`, async () => {
      for (const path of paths) {
        const { page, context } = await visit(path, { viewport });
        const found = await page.evaluate(() => {
          const main = document.querySelector('main');
          const wide = [main, document.documentElement].map((one) => one.scrollWidth - one.clientWidth);
          const small = [];
          let looked = 0;
          for (const one of document.querySelectorAll(
            'button, select, input, summary, nav a, a.button, [role=button], [role=slider]',
          )) {
            if (one.classList.contains('unseen') || one.closest('.unseen')) continue;
            // A box or a dot is hit by its label.
            const target = ['radio', 'checkbox'].includes(one.type)
              ? (one.closest('label') ?? one)
              : (one.querySelector?.('.hit') ?? one);
            const box = target.getBoundingClientRect();
            if (box.width === 0 && box.height === 0) continue;
            looked++;
            if (box.height < 43.5 || (box.width < 43.5 && one.tagName !== 'g'))
              small.push(
                `${one.tagName} ${one.getAttribute('aria-label') ?? one.textContent.trim().slice(0, 40)} ${Math.round(box.width)}x${Math.round(box.height)}`,
              );
          }
          return { wide, small, looked };
        });
        assert.ok(found.looked >= 2, `${path}: nothing to hit was found`);
        assert.deepEqual(
          found.wide.filter((px) => px > 0),
          [],
          `${path} is too wide`,
        );
        assert.deepEqual(found.small, [], path);
        await context.close();
      }
    });
  }
});

describe('a working', () => {
  it('covers nothing of the row it explains, at any size', async () => {
    for (const viewport of sizes) {
      const { page, context } = await visit('/jobs/0042/builds', { viewport });
      for (const k of [1, 8]) {
        const figure = page.locator('.finding button.cell').nth(k);
        await figure.click();
        const panel = page.getByRole('region', { name: /^Working/ });
        await panel.getByText('w_touch −').waitFor();
        const [row, box] = await Promise.all([
          figure.evaluate((one) => one.closest('.line').getBoundingClientRect().toJSON()),
          panel.boundingBox(),
        ]);
        assert.ok(box.y >= row.bottom - 1, `the panel starts at ${box.y}, the row ends at ${row.bottom}`);
        await figure.click();
      }
      await context.close();
    }
  });
});

describe('the static line', () => {
  it('follows the hand, asks for a lower car, and is one step of undo', async () => {
    const { page, context } = await visit('/jobs/0042/builds');
    const line = page.getByRole('slider', { name: /Static line, front left/ }).first();
    const box = await line.locator('.grip').boundingBox();
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    for (let k = 1; k <= 6; k++) await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - k * 2);
    const during = await line.locator('.grip').boundingBox();
    await page.mouse.up();
    assert.ok(Math.abs(box.y - during.y - 12) < 2, `the line went ${box.y - during.y} px for 12 px of the hand`);
    await until(() => sample.tried.at(-1)?.length === 1);
    const edits = sample.tried.at(-1);
    assert.match(edits[0].move, /^-\d+(\.\d)? mm$/);
    await page.getByRole('button', { name: 'Undo' }).click();
    await until(() => sample.tried.at(-1)?.length === 0);
    await context.close();
  });
});

describe('by keyboard alone', () => {
  it('opens the job, a working, the parts, changes a spring, undoes and saves', async () => {
    const { page, context } = await visit('/jobs');
    const tabTo = async (test, limit = 120) => {
      for (let k = 0; k < limit; k++) {
        await page.keyboard.press('Tab');
        if (await page.evaluate(test)) return;
      }
      assert.fail(`not reached by Tab: ${test}`);
    };
    await tabTo(() => document.activeElement.matches('a.car'));
    await page.keyboard.press('Enter');
    await page.waitForSelector('.board');
    await tabTo(() => document.activeElement.matches('button.fold'));
    await page.keyboard.press('Enter');
    await tabTo(() => document.activeElement.getAttribute('aria-label') === 'front spring, Lower springs, old dampers');
    await page.keyboard.press('ArrowDown');
    await page.waitForFunction(() => /not saved/.test(document.body.textContent));
    await tabTo(() => document.activeElement.matches('.finding button.cell'));
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: /^Working/ }).waitFor();
    await page.keyboard.press('Control+z');
    await page.waitForFunction(() => !/not saved/.test(document.body.textContent));
    await page.keyboard.press('Control+Shift+z');
    await page.waitForFunction(() => /not saved/.test(document.body.textContent));
    await page.keyboard.press('Control+s');
    await page.getByRole('dialog', { name: 'Save a revision' }).waitFor();
    await page.keyboard.press('Escape');
    assert.equal(await page.getByRole('dialog').count(), 0);
    await context.close();
  });
});

describe('drafts', () => {
  it('survive a reload of the page, typed texts and all', async () => {
    const { page, context } = await visit('/jobs/0042/car');
    await page.locator('[data-path="car.weighed.load.front_left"]').first().fill('430.5 kg');
    await page.reload();
    assert.equal(await page.locator('[data-path="car.weighed.load.front_left"]').first().inputValue(), '430.5 kg');
    await context.close();
    const again = await visit('/new');
    await again.page.getByLabel('1 Wheelbase').fill('106.3 in');
    await again.page.reload();
    assert.equal(await again.page.getByLabel('1 Wheelbase').inputValue(), '106.3 in');
    await again.context.close();
  });
});

describe('the way round', () => {
  it('points at something on every step, and ends', async () => {
    const { page, context } = await visit('/jobs');
    await page.getByRole('button', { name: 'Show me round' }).click();
    for (let step = 1; ; step++) {
      await page.getByText(`${step} of 6.`).waitFor();
      await page.waitForSelector('.ringed');
      const bar = await page.locator('.tour').boundingBox();
      const main = await page.locator('main').boundingBox();
      assert.ok(main.y + main.height <= bar.y + 1, 'the bar covers the page');
      const next = page.getByRole('button', { name: 'Next' });
      if ((await next.count()) === 0) break;
      await next.click();
      assert.ok(step < 10, 'the way has no end');
    }
    await page.locator('.tour').getByRole('link', { name: 'Start from my car' }).click();
    await page.getByRole('heading', { name: 'Start from a car' }).waitFor();
    assert.equal(await page.locator('.tour').count(), 0);
    await context.close();
  });
});

describe('without the program', () => {
  it('says so, keeps what is typed, and goes on', async () => {
    const { page, context } = await visit('/jobs/0042/builds');
    await context.setOffline(true);
    await page.getByRole('button', { name: /Parts and settings/ }).click();
    await page.getByRole('combobox', { name: 'front spring, Lower springs, old dampers' }).selectOption('front-46');
    await page.getByText(/No answer from the workshop/).waitFor();
    await context.setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByText(/No answer from the workshop/).waitFor({ state: 'detached' });
    assert.equal(sample.tried.at(-1)[0].value, 'front-46');
    await context.close();
  });
});

describe('before the order', () => {
  it('prints on one page of A4', async () => {
    const { page, context } = await visit('/jobs/0042/order');
    const pdf = await page.pdf({ format: 'A4' });
    assert.equal((pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length, 1);
    await context.close();
  });
});
