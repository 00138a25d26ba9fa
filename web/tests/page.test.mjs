// The page from first start to a session at the bench.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { devices } from 'playwright-core';
import { browserIn, entriesIn, openDemo, pageAndBrowser, phone, setGroup, until } from './driving.mjs';
import { servePage } from './serve.mjs';

const { server, browser } = await pageAndBrowser();

test('from nothing to a plan, with the server stopped after the first load', async () => {
  const alone = await servePage();
  const context = await browser.newContext(devices['Pixel 7']);
  const page = await context.newPage();
  await page.goto(alone.address);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(() => navigator.serviceWorker.controller !== null), 'the service worker');
  await alone.stop();
  await page.reload();
  await page.getByLabel('Latitude, degrees; south is negative').fill('47.6');
  await page.getByRole('button', { name: 'Plan the season' }).click();
  await page.getByRole('heading', { name: 'The whole plan' }).waitFor({ timeout: 60_000 });
  const seeds = Number((await page.locator('.answer strong').first().innerText()).replace(/\D/g, ''));
  assert.ok(seeds > 20 && seeds < 2000, `${seeds} seeds`);
  await page.getByLabel('How many radial trees').fill('40');
  const shown = () =>
    page.evaluate(() => ({
      seeds: Number(document.querySelector('.answer strong')?.textContent?.replace(/\D/g, '')),
      busy: document.querySelector('.answer')?.getAttribute('aria-busy') === 'true',
    }));
  await until(async () => {
    const now = await shown();
    return now.seeds > seeds && !now.busy;
  }, 'the plan of 40');
  await context.close();
});

test('a plan that is kept falls due', async () => {
  const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
  const { page, wrong } = await phone(context, server.address);
  await page.goto(server.address);
  await page.getByLabel('Latitude, degrees; south is negative').fill('47.6');
  await page.getByRole('button', { name: 'Plan the season' }).click();
  await page.getByLabel(/^This is the plan/).fill('autumn');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByText(/are in the daybook/).waitFor();
  const entries = await entriesIn(page);
  assert.deepEqual(entries.map(({ kind }) => kind).sort(), ['goal_set', 'plan_chosen']);
  await page.goto(`${server.address}#/today`);
  await page.locator('.working').first().waitFor({ state: 'detached', timeout: 60_000 });
  assert.deepEqual(await page.getByRole('alert').allInnerTexts(), []);
  assert.equal(await page.getByText('No plan is kept').count(), 0);
  assert.deepEqual(wrong, []);
  await context.close();
});

test('an impossible number is answered, and the last good plan stays', async () => {
  const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
  const { page } = await phone(context, server.address);
  await openDemo(page, server.address);
  await page.getByRole('heading', { name: 'The whole plan' }).waitFor({ timeout: 60_000 });
  await page.getByLabel('By which day').fill('2020-01-01');
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /2020/);
  assert.ok(await page.getByRole('heading', { name: 'The whole plan' }).isVisible());
  await context.close();
});

test('a session of twelve cuttings is in the entries, also when the tab is killed in the middle', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'page-'));
  try {
    let { context, kill } = await browserIn(folder);
    let { page, wrong } = await phone(context, server.address);
    await page.setViewportSize({ width: 412, height: 839 });
    await openDemo(page, server.address);
    await page.goto(`${server.address}#/bench`);
    const before = await entriesIn(page);
    await setGroup(page, 4, 1);
    await setGroup(page, 4, 0);
    // Cut, and not set yet: lost with the tab, and never shown as taken.
    await page.getByRole('button', { name: /^One more good cutting/ }).click();
    assert.deepEqual(wrong, []);
    await kill();
    ({ context, kill } = await browserIn(folder));
    ({ page, wrong } = await phone(context, server.address));
    await page.goto(`${server.address}#/bench`);
    await setGroup(page, 4, 2);
    const now = await entriesIn(page);
    const known = new Set(before.map((entry) => entry.id));
    const fresh = now.filter((entry) => !known.has(entry.id));
    const struck = fresh.filter((entry) => entry.kind === 'struck');
    assert.deepEqual(
      struck
        .sort((a, b) => a.written.localeCompare(b.written))
        .map(({ body }) => [body.offered, body.rejected, body.broken, body.struck, body.method]),
      [
        [5, 1, 0, 4, 'square-cut'],
        [4, 0, 0, 4, 'square-cut'],
        [6, 2, 0, 4, 'square-cut'],
      ],
    );
    assert.equal(new Set(struck.map(({ body }) => body.into)).size, 1);
    assert.deepEqual(wrong, []);
    await kill();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('a count by keys, taken back; a typed note, refused and put right', async () => {
  const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
  const { page, wrong } = await phone(context, server.address);
  await openDemo(page, server.address);
  await page.goto(`${server.address}#/batches/MW3H6`);
  await page.getByRole('button', { name: 'undecided', exact: false }).last().waitFor();
  const before = (await entriesIn(page)).length;
  for (const key of ['1', '2']) await page.getByRole('button', { name: key, exact: true }).click();
  await page.locator('.field').last().click();
  for (const key of ['2', '4']) await page.getByRole('button', { name: key, exact: true }).click();
  await page.getByRole('button', { name: 'Note it' }).first().click();
  await page.getByText(/^Taken: .*rooted 12.*undecided 24/).waitFor();
  assert.equal((await entriesIn(page)).length, before + 1);
  await page.getByRole('button', { name: 'Take it back' }).click();
  await page.getByText(/^Taken:/).waitFor({ state: 'detached' });
  assert.equal((await entriesIn(page)).length, before + 2); // a withdrawal: nothing is overwritten
  const typed = page.getByLabel(/^A note, as you would say it/);
  await typed.fill('lost MW3H6 2 dryed');
  await page.getByRole('button', { name: 'Note it' }).last().click();
  await page.getByRole('alert').waitFor();
  await typed.fill('lost MW3H6 2 dried');
  await page.getByRole('button', { name: 'Note it' }).last().click();
  await page.getByText(/^Taken: .*dried/).waitFor();
  assert.deepEqual(wrong, []);
  await context.close();
});
