// The tablet loses the workshop's network: what was open is read on, what is typed waits on the tablet, and is sent when
// the network is back, in order, once, under the name of whoever typed it.
import assert from 'node:assert/strict';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { person, start } from './program.mjs';

let browser;
before(async () => {
  browser = await launch();
});
after(async () => {
  await browser?.close();
});

// The demo's kit at its start marks, driver aboard, bars off.
const loads = ['431.8', '464.7', '327.3', '321.2'];
const heights = ['350.1', '345.0', '357.9', '355.1'];
const tablet = { width: 1024, height: 768 };

const line = (page) => page.locator('.away');
const field = (page, place) => page.locator(`[data-place="${place}"]`);
async function type(page, list, from) {
  await field(page, from).click();
  for (const text of list) {
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  }
}
async function save(page, why, who = '') {
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const dialog = page.getByRole('dialog', { name: 'Save a revision' });
  if (who) await dialog.getByLabel('Who').fill(who);
  await dialog.getByLabel('Why').fill(why);
  await dialog.getByRole('button', { name: 'Save', exact: true }).click();
  await dialog.waitFor({ state: 'hidden' });
}
/** Whose answers stand on the tablet, by name. */
const answers = (page) =>
  page.evaluate(
    () =>
      new Promise((done) => {
        const asked = indexedDB.open('trunnion');
        asked.onsuccess = () => {
          const db = asked.result;
          if (!db.objectStoreNames.contains('answers')) return done([]);
          const keys = db.transaction('answers').objectStore('answers').getAllKeys();
          keys.onsuccess = () => {
            db.close();
            done(keys.result.map((key) => key.join(' / ')));
          };
        };
      }),
  );
const kept = async (page, what) => {
  for (let k = 0; !(await answers(page)).some((one) => one.endsWith(what)); k++) {
    assert.ok(k < 600, `the tablet did not keep: ${what}`);
    await page.waitForTimeout(100);
  }
};
const revisions = async (program, id = 'demo') =>
  (await (await fetch(`${program.address}/api/jobs/${id}/revisions`)).json()).revisions;

describe('a network that goes away in the middle of a round', () => {
  it('lets the round be read, typed on and saved, over a page that is loaded anew, and sends all once, in order', async () => {
    let own = await start();
    const { folder, port } = own;
    try {
      const { page, context, faults } = await open(browser, { viewport: tablet, serviceWorkers: 'allow' });
      await page.goto(`${own.address}/jobs/demo/handover`);
      await page.locator('.state').first().waitFor();
      await kept(page, 'sheet of demo');
      await page.getByRole('link', { name: 'Scales' }).click();
      await page.waitForSelector('.plan [data-corner]');
      await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
      for (const what of ['scales of demo', 'view of demo', 'session', 'job "demo"']) await kept(page, what);
      const before = (await revisions(own)).length;

      await type(page, loads.slice(0, 2), 'loads.0');
      await own.stop();
      await type(page, loads.slice(2), 'loads.2');
      await line(page)
        .getByText(/No answer from the workshop/)
        .waitFor();
      // The page itself is gone and comes anew, from the tablet.
      await page.reload();
      await page.waitForSelector('.plan [data-corner]');
      await line(page)
        .getByText(/What is shown is from/)
        .waitFor();
      await page.getByRole('button', { name: /^Loads/ }).click();
      assert.equal(await field(page, 'loads.1').inputValue(), loads[1]);
      assert.equal(await field(page, 'loads.3').inputValue(), loads[3]);
      assert.equal(
        await page.locator('.work .plan .figure text').count(),
        0,
        'no turn is shown for what nobody answered',
      );
      await page.getByRole('button', { name: /^Heights/ }).click();
      await type(page, heights, 'heights.0');
      await page.getByLabel('Who', { exact: true }).fill('Tam');
      await page.getByRole('button', { name: 'Save round' }).click();
      await line(page).getByText('1 entry kept on this tablet').waitFor();

      // Between two rounds something is ticked and saved.
      await page.getByRole('link', { name: 'Handover' }).click();
      const hoses = page.locator('fieldset').filter({ has: page.getByText('Brake hoses free', { exact: true }) });
      await hoses.getByText('done', { exact: true }).click();
      await save(page, 'ticked on the road', 'Tam');
      await page.getByText('saved on this tablet, not sent yet').waitFor();
      await line(page).getByText('2 entries kept on this tablet').waitFor();
      for (const face of ['Brief', 'Car', 'Builds']) {
        await page.getByRole('link', { name: face, exact: true }).click();
        await page.locator('main h1, main h2').first().waitFor();
      }

      await page.getByRole('link', { name: 'Scales' }).click();
      await page.waitForSelector('.plan [data-corner]');
      await page.getByRole('button', { name: /^Loads/ }).click();
      await type(page, ['433.0', ...loads.slice(1), ...heights], 'loads.0');
      await page.getByRole('button', { name: 'Save round' }).click();
      await line(page).getByText('3 entries kept on this tablet').waitFor();
      await page.reload();
      await line(page).getByText('3 entries kept on this tablet').waitFor();

      const sent = [];
      page.on('requestfinished', (request) => {
        if (/\/scales\/rounds$/.test(request.url())) sent.push(request.postDataJSON().round.loads[0]);
        if (request.method() === 'PUT' && /\/api\/jobs\/demo$/.test(request.url()))
          sent.push(request.postDataJSON().why);
      });
      own = await start({ folder, port });
      await line(page).waitFor({ state: 'detached' });
      assert.deepEqual(
        sent.filter((one, k) => sent.indexOf(one) === k),
        ['431.8 kg', 'ticked on the road', '433.0 kg'],
      );
      const list = await revisions(own);
      assert.equal(list.length, before + 1);
      assert.equal(list[0].who, 'Tam');
      const { rounds } = await (await fetch(`${own.address}/api/jobs/demo/scales`)).json();
      assert.equal(rounds.length, 2);
      assert.match(rounds[0].loads[0] + rounds[1].loads[0], /431\.8.*433\.0/);
      await page.getByText(/^saved /).waitFor();
      assert.deepEqual(faults, []);

      // A page that was built anew takes the kept one's place, and says so.
      const files = await page.evaluate(async () => {
        const names = await caches.keys();
        const urls = await Promise.all(
          names.map(async (name) => (await (await caches.open(name)).keys()).map((one) => one.url)),
        );
        return urls.flat().map((one) => new URL(one).pathname);
      });
      assert.ok(files.includes('/index.html'));
      assert.deepEqual(
        files.filter((one) => one.startsWith('/api/')),
        [],
        'no answer of the program is in the page’s cache',
      );
      await context.close();
    } finally {
      await own.remove();
    }
  });
});

describe('a save whose answer got lost', () => {
  it('is sent again under its name, and made once, also when another saved meanwhile', async () => {
    const own = await start();
    try {
      const { page, context } = await open(browser, { viewport: tablet });
      await page.goto(`${own.address}/jobs/demo/car`);
      await page.locator('[data-path="job.owner"]').fill('Mrs Hartwell');
      let arrived = 0;
      await page.route(/\/api\/jobs\/demo$/, async (route) => {
        if (route.request().method() !== 'PUT' || ++arrived > 1) return route.continue();
        await route.fetch();
        // Before its answer comes through, another tablet saves on top of it.
        const { text, revision } = await (await fetch(`${own.address}/api/jobs/demo`)).json();
        const other = await fetch(`${own.address}/api/jobs/demo`, {
          method: 'PUT',
          headers: { 'Content-Type': 'application/json', 'If-Match': `"${revision}"` },
          body: JSON.stringify({ text, edits: [{ path: 'job.number', value: '"7"' }], who: 'Ines', why: 'number' }),
        });
        assert.equal(other.status, 200);
        await route.abort();
      });
      const before = (await revisions(own)).length;
      await save(page, 'the owner', 'Tam');
      await line(page).waitFor({ state: 'detached' });
      await page.getByText(/^saved /).waitFor();
      assert.ok(arrived >= 2, 'it was sent again');
      const list = await revisions(own);
      assert.deepEqual(
        list.slice(0, list.length - before).map((one) => one.why),
        ['number', 'the owner'],
      );
      await context.close();
    } finally {
      await own.remove();
    }
  });
});

describe('two tablets that changed one field, one of them without a network', () => {
  it('show both versions when the network is back, and nothing of either is lost', async () => {
    const own = await start();
    try {
      const { page, context } = await open(browser, { viewport: tablet });
      await page.goto(`${own.address}/jobs/demo/car`);
      const owner = page.locator('[data-path="job.owner"]');
      await owner.waitFor();
      await kept(page, 'view of demo');
      await context.setOffline(true);
      await owner.fill('Mrs Hartwell');
      await line(page).waitFor();
      await save(page, 'the owner', 'Tam');
      await line(page).getByText('1 entry kept on this tablet').waitFor();
      // More is typed after it, and saved apart.
      await page.locator('[data-path="job.number"]').fill('77');
      await save(page, 'the number', 'Tam');
      await line(page).getByText('2 entries kept on this tablet').waitFor();

      const { text, revision } = await (await fetch(`${own.address}/api/jobs/demo`)).json();
      const other = await fetch(`${own.address}/api/jobs/demo`, {
        method: 'PUT',
        headers: { 'Content-Type': 'application/json', 'If-Match': `"${revision}"` },
        body: JSON.stringify({
          text,
          edits: [{ path: 'job.owner', value: 'Mrs Other' }],
          who: 'Ines',
          why: 'her name',
        }),
      });
      assert.equal(other.status, 200);
      await context.setOffline(false);
      const sheet = page.getByRole('dialog', { name: /Ines saved this job/ });
      await sheet.waitFor();
      await sheet.getByText('Mrs Other').waitFor();
      await sheet.getByText('Mrs Hartwell').click();
      await sheet.getByRole('button', { name: 'Save what was chosen' }).click();
      await line(page).waitFor({ state: 'detached' });
      const now = await (await fetch(`${own.address}/api/jobs/demo`)).json();
      assert.match(now.text, /owner: Mrs Hartwell/);
      assert.match(now.text, /number: ["']?77/);
      assert.equal(now.revision, revision + 3, 'theirs, mine with it, and what was saved after');
      assert.deepEqual(
        (await revisions(own)).slice(0, 3).map((one) => one.why),
        ['the number', 'the owner', 'her name'],
      );
      await context.close();
    } finally {
      await own.remove();
    }
  });
});

describe('a tablet that two people sign in at', () => {
  it('shows and sends nothing of the first while the second is there, and keeps it for the first', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'trunnion-journey-'));
    const phrase = 'seven springs on the bench';
    await person(folder, 'Ines', 'owner', phrase);
    await person(folder, 'Tam', 'specialist', phrase);
    const own = await start({ folder, host: '0.0.0.0', tls: true });
    try {
      const { page, context } = await open(browser, { viewport: tablet, ignoreHTTPSErrors: true });
      const enter = async (name) => {
        await page.getByLabel('Your name').fill(name);
        await page.getByLabel('Passphrase of the workshop').fill(phrase);
        await page.getByRole('button', { name: 'Come in' }).click();
        await page.getByRole('button', { name: 'Log out' }).waitFor();
      };
      await page.goto(`${own.address}/jobs/demo/car`);
      await enter('Ines');
      const owner = page.locator('[data-path="job.owner"]');
      await owner.waitFor();
      const was = await owner.inputValue();
      await kept(page, 'Ines / view of demo');
      // Whoever signs in is remembered at once: a page that comes anew without the network knows whose it is.
      const remembered = () =>
        page.evaluate(
          () =>
            new Promise((done) => {
              const asked = indexedDB.open('trunnion');
              asked.onsuccess = () => {
                const got = asked.result.transaction('answers').objectStore('answers').get(['@tablet', 'session']);
                got.onsuccess = () => {
                  asked.result.close();
                  done(got.result?.value.person?.name ?? '');
                };
              };
            }),
        );
      assert.equal(await remembered(), 'Ines');
      await context.setOffline(true);
      await owner.fill('Mrs Hartwell');
      await save(page, 'the owner');
      await line(page).getByText('1 entry kept on this tablet').waitFor();
      await page.locator('[data-path="job.number"]').fill('77');
      await page.getByRole('button', { name: 'Log out' }).click();
      await page.getByLabel('Your name').waitFor();
      assert.equal(await page.getByText('kept on this tablet').count(), 0);
      for (const one of await answers(page)) assert.doesNotMatch(one, /^Ines|session/);

      const put = [];
      page.on('request', (request) => {
        if (request.method() === 'PUT' && /\/api\/jobs\/demo$/.test(request.url())) put.push(request.url());
      });
      await context.setOffline(false);
      await enter('Tam');
      await owner.waitFor();
      assert.equal(await owner.inputValue(), was);
      assert.notEqual(await page.locator('[data-path="job.number"]').inputValue(), '77');
      await kept(page, 'Tam / view of demo');
      await page.waitForTimeout(3500); // longer than the outbox rests
      assert.deepEqual(put, []);
      await page.getByRole('button', { name: 'Log out' }).click();
      await page.getByLabel('Your name').waitFor();

      await enter('Ines');
      await owner.waitFor();
      await line(page).waitFor({ state: 'detached' });
      assert.equal(await owner.inputValue(), 'Mrs Hartwell');
      assert.equal(await page.locator('[data-path="job.number"]').inputValue(), '77');
      assert.equal(put.length, 1);
      await context.close();
    } finally {
      await own.remove();
    }
  });
});
