// Starts the system's Chromium, shut off from everything but this machine.
import { chromium } from 'playwright-core';

export const executablePath = process.env.CHROMIUM ?? '/usr/bin/chromium';

export async function launch() {
  return chromium.launch({
    executablePath,
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** A page on which any request that leaves this machine is a failure, and so is a fault in the page's own code. */
export async function open(browser, options = {}) {
  // The worker that keeps the page answers in the program's place: where that is not looked at, it stays out.
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    serviceWorkers: 'block',
    ...options,
  });
  // A busy machine is slow, and slow is not wrong.
  context.setDefaultTimeout(Number(process.env.JOURNEY_PATIENCE ?? 120_000));
  const page = await context.newPage();
  const outside = [];
  const faults = [];
  page.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    if (protocol.startsWith('http') && hostname !== '127.0.0.1' && hostname !== 'localhost')
      outside.push(request.url());
  });
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('console', (message) => {
    if (
      message.type() === 'error' &&
      !/status of (4\d\d|503)|ERR_INTERNET_DISCONNECTED|ERR_CONNECTION|ERR_INCOMPLETE_CHUNKED/.test(message.text())
    )
      faults.push(message.text());
  });
  return { context, page, outside, faults };
}

/** Waits until something that no element of the page shows has come about. */
export async function until(cameAbout) {
  for (let k = 0; k < 1200; k++) {
    if (cameAbout()) return;
    await new Promise((again) => setTimeout(again, 50));
  }
  throw new Error(`it did not come about within a minute: ${cameAbout}`);
}
