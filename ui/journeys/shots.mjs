// Takes a picture of every page at three sizes, light and dark, into shots/. `node journeys/shots.mjs [address] [name…]`:
// without an address, of the built page on sample data.
import { mkdir } from 'node:fs/promises';
import { launch, open } from './browser.mjs';
import { sampleApi } from './sample.mjs';
import { serve } from './still.mjs';

const [address, ...only] = process.argv.slice(2);
const own = !address || address === 'sample';
const still = own ? await serve((await sampleApi()).api) : null;
const base = still?.address ?? address;
const folder = new URL('../shots/', import.meta.url).pathname;
await mkdir(folder, { recursive: true });

const job = process.env.JOB ?? '0042';
const pages = {
  jobs: { path: '/jobs' },
  new: { path: '/new' },
  brief: { path: `/jobs/${job}/brief` },
  car: { path: `/jobs/${job}/car` },
  builds: { path: `/jobs/${job}/builds` },
  working: { path: `/jobs/${job}/builds`, then: async (page) => page.locator('.finding button.cell').nth(1).click() },
  parts: {
    path: `/jobs/${job}/builds`,
    then: async (page) => page.getByRole('button', { name: 'Parts and settings' }).click(),
  },
  road: { path: `/jobs/${job}/road`, wait: 1500 },
  order: { path: `/jobs/${job}/order` },
  history: { path: `/jobs/${job}/history` },
  components: { path: '/components', wait: 1500 },
  nowhere: { path: '/not-here' },
};
const sizes = {
  desk: { width: 1440, height: 900 },
  tablet: { width: 1024, height: 768 },
  upright: { width: 768, height: 1024 },
};
const browser = await launch();
for (const scheme of ['light', 'dark']) {
  for (const [size, viewport] of Object.entries(sizes)) {
    const { page, context, faults, outside } = await open(browser, { viewport, colorScheme: scheme });
    for (const [name, one] of Object.entries(pages)) {
      if (only.length > 0 && !only.includes(name) && !only.includes(`${name}-${size}-${scheme}`)) continue;
      await page.goto(base + one.path);
      await page.waitForTimeout(one.wait ?? 500);
      await one.then?.(page);
      await page.waitForTimeout(300);
      // The page scrolls inside itself: let it be as tall as what is in it.
      const tall = await page.evaluate(() => {
        const main = document.querySelector('main');
        return main ? document.documentElement.clientHeight + main.scrollHeight - main.clientHeight : 0;
      });
      await page.setViewportSize({ width: viewport.width, height: Math.min(4000, Math.max(viewport.height, tall)) });
      await page.waitForTimeout(200);
      await page.screenshot({ path: `${folder}${name}-${size}-${scheme}.png` });
      const wide = await page.evaluate(() => {
        const main = document.querySelector('main');
        return main ? main.scrollWidth - main.clientWidth : 0;
      });
      if (wide > 0) console.log(`${name} ${size}: ${wide} px too wide`);
      await page.setViewportSize(viewport);
    }
    for (const fault of [...faults, ...outside]) console.log(size, scheme, fault);
    await context.close();
  }
}
await browser.close();
await still?.close();
