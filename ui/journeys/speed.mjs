// How fast and how heavy the page is, measured in one run on the program itself: `node journeys/speed.mjs [times]`. Prints
// a table in Markdown; `make page-speed` publishes it. Nothing here fails: a slow machine is not wrong.
import { cpus } from 'node:os';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

const times = Number(process.argv[2] ?? 40);
const program = await start();
const browser = await launch();
const { jobs } = await (await fetch(`${program.address}/api/jobs`)).json();
const demo = jobs.find((one) => one.demo).id;
const quantile = (list, q) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(q * list.length))];
const ms = (x) => `${Math.round(x)} ms`;
const rows = [];

/** A page nobody has opened before, in a browser without its files. */
async function cold() {
  const { page, context } = await open(browser);
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  let bytes = 0;
  let requests = 0;
  session.on('Network.loadingFinished', (one) => {
    bytes += one.encodedDataLength;
    requests++;
  });
  const began = performance.now();
  await page.goto(`${program.address}/jobs/${demo}/builds`);
  await page.locator('.strips .wheels').first().waitFor();
  await page.locator('.board .finding').first().waitFor();
  const usable = performance.now() - began;
  await page.waitForFunction(() => !document.body.innerText.includes('bands are still being refined'));
  await page.waitForLoadState('networkidle');
  return { page, context, usable, bytes: () => bytes, requests: () => requests };
}

// The first of a program that has answered nothing yet, then one whose job was answered before.
const first = await cold();
rows.push(['Builds of the demo, cold, first question to the program', ms(first.usable), '1 s']);
rows.push([
  'the same over the wire, all answers',
  `${Math.round(first.bytes() / 1000)} kB in ${first.requests()} requests`,
  '300 kB',
]);
await first.context.close();
const again = [];
for (let k = 0; k < 5; k++) {
  const one = await cold();
  again.push(one.usable);
  await one.context.close();
}
rows.push(['the same, another browser, median of 5', ms(quantile(again, 0.5)), '1 s']);

// A click, to the strip that has moved.
const { page, context } = await cold();
const fold = page.getByRole('button', { name: /Parts and settings/ });
if ((await fold.getAttribute('aria-expanded')) === 'false') await fold.click();
const measured = await page.evaluate(async (times) => {
  const buttons = [...document.querySelectorAll('.clicks button[aria-label*="front click"]')];
  const strips = [...document.querySelectorAll('.strips [role=cell]')].at(-1);
  const cell = () =>
    [...document.querySelectorAll('.finding [role=cell], .worst [role=cell]')].map((one) => one.textContent).join('|');
  const toAnswer = [];
  const toCount = [];
  const typing = [];
  for (let k = 0; k < times; k++) {
    const button = buttons[k % 2];
    const was = cell() + strips.innerHTML;
    const count = document.querySelector('.clicks output[data-path*="front"]').textContent;
    const began = performance.now();
    button.click();
    await new Promise(requestAnimationFrame);
    if (document.querySelector('.clicks output[data-path*="front"]').textContent !== count)
      toCount.push(performance.now() - began);
    while (cell() + strips.innerHTML === was && performance.now() - began < 5000) {
      const before = performance.now();
      await new Promise((next) => setTimeout(next, 0));
      typing.push(performance.now() - before);
    }
    await new Promise(requestAnimationFrame);
    toAnswer.push(performance.now() - began);
    await new Promise((next) => setTimeout(next, 150));
  }
  return { toAnswer, toCount, longest: Math.max(...typing) };
}, times);
rows.push([`a click to the count beside it, median of ${times}`, ms(quantile(measured.toCount, 0.5)), '']);
rows.push([`a click to the changed figures, median of ${times}`, ms(quantile(measured.toAnswer, 0.5)), '50 ms']);
rows.push(['the same, 95 of 100', ms(quantile(measured.toAnswer, 0.95)), '80 ms']);
rows.push(['longest the page was busy meanwhile', ms(measured.longest), '']);
await context.close();
await browser.close();
await program.remove();

console.log(`# The page's weight and speed

One run of \`make page-speed\`: the program and headless Chromium on the same machine (${cpus().length} processors seen, ${cpus()[0]?.model ?? 'unknown'}).

| what | measured | goal |
| --- | ---: | ---: |`);
for (const row of rows) console.log(`| ${row.join(' | ')} |`);
