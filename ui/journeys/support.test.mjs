// What an owner says, what was written down, and the way back, on the real program.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, describe, it } from 'node:test';
import { launch, open } from './browser.mjs';
import { start } from './program.mjs';

let browser;
let program;
before(async () => {
  browser = await launch();
  program = await start();
});
after(async () => {
  await browser?.close();
  await program?.remove();
});

const edit = (path, value) => ({ path, value });
async function job(id = 'demo') {
  return (await fetch(`${program.address}/api/jobs/${id}`)).json();
}
async function save(why, edits, id = 'demo') {
  const now = await job(id);
  const answer = await fetch(`${program.address}/api/jobs/${id}`, {
    method: 'PUT',
    headers: { 'Content-Type': 'application/json', 'If-Match': `"${now.revision}"` },
    body: JSON.stringify({ text: now.text, edits, who: 'Ines', why }),
  });
  assert.equal(answer.status, 200, await answer.text());
}
const axe = readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
async function clean(page) {
  await page.evaluate(await axe);
  const found = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa'] }));
  assert.deepEqual(
    found.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`),
    [],
  );
}

describe('support', () => {
  it('leads from the owner’s words to causes, opens their figures, and tries a change on the desk', async () => {
    const { page, context, faults, outside } = await open(browser);
    await page.goto(`${program.address}/jobs/demo/support`);
    await page.getByLabel('In the owner’s words').fill('it bangs in dips when the car is full');
    await page.getByLabel('Build on the car').selectOption('kit');
    await page.getByRole('button', { name: 'Ask', exact: true }).click();
    const causes = page.locator('.causes > article');
    await causes.first().waitFor();
    assert.ok([2, 3].includes(await causes.count()));
    assert.match(await page.locator('.caution').innerText(), /no diagnosis/);
    assert.match(await page.locator('.about').innerText(), /full car/);

    // A figure of the evidence and its working say the same.
    const figure = causes.locator('button.figure').first();
    const shown = (await figure.innerText()).split(',')[0];
    await figure.click();
    const working = causes.getByRole('region', { name: /^Working of/ });
    await working.waitFor();
    const result = await working.locator('tr.result b').innerText();
    assert.ok(shown.startsWith(result.split(' ')[0]), `${shown} is not ${result}`);
    await clean(page);
    await figure.click();
    await working.waitFor({ state: 'detached' });

    await causes.getByRole('button', { name: 'Try this change' }).first().click();
    await page.getByText('changes not saved').waitFor();
    await page.getByRole('button', { name: 'Tried: Undo takes it back' }).waitFor();
    await page.getByRole('button', { name: 'Ask again for the trial as it is now' }).click();
    await page.getByRole('button', { name: 'Ask again for the trial as it is now' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText(/^saved /).waitFor();

    // Words that nobody has said yet: the table is offered, and one of it chosen.
    await page.getByLabel('In the owner’s words').fill('qqq zzz');
    await page.getByRole('button', { name: 'Ask', exact: true }).click();
    await page.getByText('These words match no known symptom').waitFor();
    await page
      .locator('section')
      .getByRole('button', { name: /^dives when braking/ })
      .first()
      .click();
    await causes.first().waitFor();
    assert.deepEqual(faults, []);
    assert.deepEqual(outside, []);
    await context.close();
  });

  it('writes down a come-back and a damper’s gas, and finds the car most like it', async () => {
    const copy = await fetch(`${program.address}/api/jobs`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ fromJob: 'demo' }),
    });
    assert.equal(copy.status, 201);
    const { page, context, faults } = await open(browser);
    await page.goto(`${program.address}/jobs/demo/support`);
    await page.getByText('None is on record.').waitFor();
    await page.getByText('Add a return visit').click();
    await page.getByLabel('What was found').first().fill('collar moved');
    await page.getByLabel('Step that would have caught it').selectOption('settling');
    await page.getByLabel('Cost').fill('120 EUR');
    await clean(page);
    await page.getByRole('button', { name: 'Record return visit' }).click();
    await page.getByText('would have been caught at: settling').waitFor();
    await page.getByText(/1 return visit in 2 jobs/).waitFor();

    await page.getByText('Add hours, a service or a gas check').click();
    await page.getByLabel('Damper, as stamped').fill('K-1041');
    await page.getByLabel('What was done').selectOption('gas-check');
    await page.getByLabel('Gas, as read').fill('18 bar');
    await page.getByRole('button', { name: 'Record service' }).click();
    await page.getByText('18 bar').first().waitFor();
    await page.getByText('Why it is near').first().click();
    await page.getByText(/^front wheel rate .*, here/).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});

describe('history', () => {
  it('adds a change, compares two revisions, and puts the car back', async () => {
    await save('first drive', [edit('builds.kit.setup.click.front', '9'), edit('builds.kit.setup.click.rear', '6')]);
    await save('after the scales', [edit('builds.kit.setup.platform.front_left', '3 mm')]);
    const { page, context, faults, outside } = await open(browser, { acceptDownloads: true });
    await page.goto(`${program.address}/jobs/demo/history`);
    await page.getByText('after the scales').waitFor();

    await page.getByText('Add a note: one change').click();
    await page.getByLabel('What was changed').selectOption('builds.kit.setup.click.rear');
    assert.equal(await page.getByLabel('From', { exact: true }).inputValue(), '6');
    await page.getByLabel('To', { exact: true }).fill('8');
    // What was typed and not sent outlives the page.
    await page.reload();
    assert.equal(await page.getByLabel('To', { exact: true }).inputValue(), '8');
    assert.equal(await page.getByLabel('From', { exact: true }).inputValue(), '6');
    await page.getByLabel('What owner or driver said after it').fill('calmer under brakes');
    await page.getByLabel('Lap or road').fill('lap 4');
    await page.getByLabel('Keep or revert').selectOption('keep');
    await page.getByRole('button', { name: 'Record', exact: true }).click();
    await page.getByText('“calmer under brakes”').waitFor();
    await page.getByText('Add a note: one change').click();
    assert.equal(await page.getByLabel('To', { exact: true }).inputValue(), '', 'what was sent is gone from the form');
    await page.getByText('Add a note: one change').click();
    await page.getByText('changes not saved').waitFor();
    await clean(page);

    // Two are compared, one is gone back to: from the desk with its change.
    await page.getByRole('button', { name: 'Pick revision 1' }).click();
    await page.getByRole('button', { name: 'Load into the trial' }).waitFor();
    await page.getByText(/^Front left collar: 2 turns down/).waitFor();
    await page.getByText(/^Rear clicks: 1 click firmer, .*from 8 to 7/).waitFor();
    await page.getByText('Before the first turn', { exact: true }).waitFor();
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Text of that revision' }).click(),
    ]);
    assert.match(await readFile(await file.path(), 'utf8'), /click: \{front: 7, rear: 7\}/);
    await clean(page);
    await page.getByRole('button', { name: 'Load into the trial' }).click();
    await page.getByText('Nothing has to be turned or swapped.').waitFor();
    await page.getByRole('button', { name: 'Pick revision 3' }).click();
    await page.getByText('What differs (3)').waitFor();
    await page.getByText(/^Front left collar: 2 turns up/).waitFor();
    await page.getByRole('button', { name: 'Reverse' }).click();
    await page.getByText(/^Front left collar: 2 turns down/).waitFor();

    await page.getByRole('button', { name: 'Save', exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Who').fill('Ines');
    await dialog.getByLabel('Why').fill('put back');
    await dialog.getByRole('button', { name: 'Save' }).click();
    await page.getByText('put back').waitFor();
    const { text } = await job();
    assert.match(text, /click: \{front: 7, rear: 7\}/);
    assert.doesNotMatch(text, /front_left: 3 mm/);

    // The search finds a word of the driver's, and nothing else.
    await page.getByLabel('Search').fill('calmer');
    await page.getByText(/^1 of 7/).waitFor();
    assert.deepEqual(faults, []);
    assert.deepEqual(outside, []);
    await context.close();
  });

  it('measures again at the end of the day, and keeps it', async () => {
    const { page, context, faults } = await open(browser);
    await page.goto(`${program.address}/jobs/demo/history`);
    await page.getByText('Measure again at the end').click();
    await page.getByText('The record is of').waitFor();
    const corner = page.getByRole('group', { name: 'front left' });
    const record = (await corner.getByText(/^record .* mm$/).innerText()).replace('record ', '');
    await corner.getByLabel(/^Height/).fill(record);
    // A first question's answer comes after the second's: it is dropped.
    let release = () => {};
    const late = new Promise((done) => (release = done));
    await page.route(
      '**/remeasure',
      async (route) => {
        const response = await route.fetch();
        await late;
        await route.fulfill({ response });
      },
      { times: 1 },
    );
    const overtaken = page.waitForResponse('**/remeasure');
    await page.getByRole('button', { name: 'Compare' }).click();
    await page
      .getByRole('group', { name: 'rear right' })
      .getByLabel(/^Height/)
      .fill('300');
    await page.getByRole('button', { name: 'Compare' }).click();
    await page.getByText('1 of 2 are off by more').waitFor();
    release();
    await (await overtaken).finished();
    await page.getByText('1 of 2 are off by more').waitFor();
    await clean(page);
    await page.getByLabel('Kilometres since the handover').fill('480');
    await page.getByRole('button', { name: 'Record as follow-up check' }).click();
    await page.getByText('480 km after the handover').waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });

  it('holds five hundred revisions at once, and filters them while the hand still moves', async () => {
    const made = await fetch(`${program.address}/api/jobs`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ fromJob: 'demo' }),
    });
    const { id } = await made.json();
    for (let k = 2; k <= 500; k++)
      await save(`step ${k}`, [edit('builds.kit.setup.click.front', String((k % 12) + 1))], id);
    const { page, context, faults } = await open(browser);
    await page.goto(`${program.address}/jobs/${id}/history`);
    await page.getByText(/^500 of 500/).waitFor();
    assert.equal(await page.locator('.list li').count(), 500);
    const lag = async (what) => {
      // From the event to two frames later: everything it asked for is laid out and painted.
      await page.evaluate(() => {
        globalThis.began = performance.now();
      });
      await what();
      return page.evaluate(
        () =>
          new Promise((done) =>
            requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - globalThis.began))),
          ),
      );
    };
    const filtered = await lag(() => page.getByLabel('Search').fill('front click'));
    await page.getByText(/^499 of 500/).waitFor();
    const scrolled = await lag(() => page.evaluate(() => document.querySelector('main').scrollTo(0, 1e6)));
    console.log(`500 revisions: filtered in ${Math.round(filtered)} ms, scrolled in ${Math.round(scrolled)} ms`);
    await page.getByLabel('Search').fill('step 444');
    await page.getByText(/^1 of 500/).waitFor();
    await page.getByLabel('Search').fill('');
    await page.getByText(/^500 of 500/).waitFor();
    await page.getByRole('button', { name: 'Pick revision 2', exact: true }).click();
    await page.getByText(/^Front clicks: /).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
  });
});
