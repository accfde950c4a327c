// What the brief asks for is added to and taken from on the page, on the real program.
import assert from 'node:assert/strict';
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

it('a road, an obstacle and a load state are added, taken out, taken back, and saved', async () => {
  const { page, context, faults, outside } = await open(browser);
  await page.goto(`${program.address}/jobs/demo/brief`);
  const adding = page.locator('details[open]');
  const add = () => adding.getByRole('button', { name: 'Add', exact: true }).last().click();

  await page.getByText('Add a road').click();
  await adding.locator('select').first().selectOption('broken-lane');
  await adding.getByLabel('Speeds').fill('40, 50 km/h');
  await add();
  await page.getByRole('button', { name: 'Remove broken lane' }).waitFor();

  await page.getByText('Add an obstacle').click();
  await adding.locator('select').first().selectOption({ label: 'joint, open' });
  await add();
  await page.getByRole('button', { name: 'Remove joint' }).waitFor();

  await page.getByText('Add a load state').click();
  await adding.getByLabel('Name', { exact: true }).fill('Two: and {skis}');
  await add();
  await page.getByText('Change Two: and {skis}').click();
  await page.getByText('Add to Two: and {skis}').click();
  await adding.getByLabel('Item').last().fill('skis');
  await adding.getByRole('textbox', { name: 'Mass' }).last().fill('12 kg');
  await adding.getByRole('textbox', { name: 'Behind the front axle' }).last().fill('2000 mm');
  await add();
  await page.getByText('12 kg', { exact: true }).waitFor();
  await page.getByText('Add a trailer to Two: and {skis}').click();
  await adding.getByLabel('Mass, loaded').fill('1300');
  await adding.getByLabel('Coupling behind the front axle').fill('3.7 m');
  await adding.getByLabel('Coupling to its axles').fill('4.1 m');
  await adding.getByLabel('Body length').fill('5.2 m');
  await add();
  const coupling = page.getByLabel(/^Coupling load/);
  await coupling.fill('75');
  await coupling.blur();

  await page.getByRole('button', { name: 'Remove motorway' }).click();
  await page.getByRole('button', { name: 'Remove motorway' }).waitFor({ state: 'detached' });
  await page.getByRole('button', { name: /Undo/ }).click();
  await page.getByRole('button', { name: 'Remove motorway' }).waitFor();
  // A load state that a road stands on is not lost in silence: the fault says where it is used.
  await page.getByRole('button', { name: 'Remove Hill climb' }).click();
  await page
    .getByRole('alert')
    .getByText(/hill-climb/)
    .first()
    .waitFor();
  await page.getByRole('button', { name: /Undo/ }).click();

  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Who').fill('Ines');
  await dialog.getByLabel('Why').fill('the owner moved house');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText(/^saved /).waitFor();
  const job = await (await fetch(`${program.address}/api/jobs/demo`)).json();
  assert.match(job.text, /road: broken-lane, speeds: "40, 50 km\/h"/);
  assert.match(job.text, /event: joint, depth: 30 mm, length: 0.06 m/);
  assert.match(job.text, /mass: 12 kg, behind_front_axle: 2000 mm/);
  assert.match(
    job.text,
    /trailer: \{mass: 1300 kg, behind_front_axle: 3.7 m, to_axle: 4.1 m, body_length: 5.2 m, coupling_load: "?75 kg/,
  );
  assert.match(job.text, /# to the stop, with the driver aboard/, 'comments stay');
  assert.deepEqual(faults, []);
  assert.deepEqual(outside, []);
  await context.close();
});
