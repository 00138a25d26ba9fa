// The page in a browser, driven by role and name: node --test tests/page.test.mjs (build it first).
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, devices } from 'playwright-core';
import { servePage } from './serve.mjs';

const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
const args = ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'];
const kParts = ['season', 'today', 'bench', 'batches', 'mixes', 'weather', 'more'];

let server;
let browser;
before(async () => {
  server = await servePage();
  browser = await chromium.launch({ executablePath, args });
});
after(async () => {
  await browser.close();
  await server.stop();
});

/** A page on a phone, of which nothing may go wrong and nothing may go elsewhere. */
async function phone(context) {
  const page = context.pages()[0] ?? (await context.newPage());
  const wrong = [];
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('request', (request) => {
    const { protocol, host } = new URL(request.url());
    if (!['blob:', 'data:'].includes(protocol) && host !== new URL(server.address).host) wrong.push(request.url());
  });
  return { page, wrong };
}

async function openDemo(page, address = server.address) {
  await page.goto(address);
  await page.getByRole('button', { name: 'Open the demo nursery' }).click();
  await page.getByRole('heading', { name: 'The season' }).waitFor();
}

/** All entries that this browser keeps, by their ids. */
function entriesIn(page) {
  return page.evaluate(
    () =>
      new Promise((done, failed) => {
        const opening = indexedDB.open('strikebed');
        opening.onerror = () => failed(opening.error);
        opening.onsuccess = () => {
          const reading = opening.result.transaction('entries').objectStore('entries').getAll();
          reading.onsuccess = () => {
            opening.result.close();
            done(reading.result.map((text) => JSON.parse(text)));
          };
        };
      }),
  );
}

/** Asks again and again; the page's policy forbids the browser's own way of waiting. */
async function until(ask, what) {
  for (let turn = 0; turn < 300; turn += 1) {
    if (await ask()) return;
    await new Promise((resume) => setTimeout(resume, 100));
  }
  assert.fail(`it never came: ${what}`);
}

/** A browser of its own that can be killed, with what it kept in a folder. */
async function browserIn(folder) {
  const given = [...args, '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${folder}`, 'about:blank'];
  const process_ = spawn(executablePath, given, { stdio: ['ignore', 'ignore', 'pipe'], detached: true });
  const address = await new Promise((found, failed) => {
    let said = '';
    process_.stderr.on('data', (more) => {
      said += more;
      const listening = /DevTools listening on (ws:\S+)/.exec(said);
      if (listening) found(listening[1]);
    });
    process_.on('exit', () => failed(new Error(said)));
  });
  const connected = await chromium.connectOverCDP(address);
  const context = connected.contexts()[0];
  return {
    context,
    kill: async () => {
      const ended = new Promise((resume) => process_.on('exit', resume));
      process.kill(-process_.pid, 'SIGKILL');
      await ended;
    },
  };
}

async function setGroup(page, cuttings, passedOver) {
  for (let i = 0; i < cuttings; i += 1) await page.getByRole('button', { name: /^One more good cutting/ }).click();
  for (let i = 0; i < passedOver; i += 1) await page.getByRole('button', { name: /^One passed over/ }).click();
  await page.getByRole('button', { name: /^Into the solution/ }).click();
  await page.getByRole('button', { name: /Set them, and tap here/ }).click();
  await page.getByText(/^Taken:/).waitFor();
  await page.getByRole('button', { name: /Set them/ }).waitFor({ state: 'detached' });
}

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

test('an impossible number is answered, and the last good plan stays', async () => {
  const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
  const { page } = await phone(context);
  await openDemo(page);
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
    let { page, wrong } = await phone(context);
    await page.setViewportSize({ width: 412, height: 839 });
    await openDemo(page);
    await page.goto(`${server.address}#/bench`);
    const before = await entriesIn(page);
    await setGroup(page, 4, 1);
    await setGroup(page, 4, 0);
    // Cut, and not set yet: lost with the tab, and never shown as taken.
    await page.getByRole('button', { name: /^One more good cutting/ }).click();
    assert.deepEqual(wrong, []);
    await kill();
    ({ context, kill } = await browserIn(folder));
    ({ page, wrong } = await phone(context));
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
  const { page, wrong } = await phone(context);
  await openDemo(page);
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

for (const colorScheme of ['light', 'dark']) {
  test(`every part can be used by everybody, ${colorScheme}`, async () => {
    for (const how of [
      devices['Pixel 7'],
      { viewport: { width: 320, height: 640 } },
      { viewport: { width: 1280, height: 900 } },
    ]) {
      const context = await browser.newContext({ ...how, colorScheme, serviceWorkers: 'block' });
      const { page, wrong } = await phone(context);
      await page.goto(server.address);
      const check = async (what) => {
        await page.locator('.working').first().waitFor({ state: 'detached', timeout: 60_000 });
        const { violations } = await new AxeBuilder({ page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
          .analyze();
        assert.deepEqual(
          violations.map(({ id, nodes }) => `${what}: ${id} ${nodes.map((node) => node.target.join(' ')).join('; ')}`),
          [],
        );
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${what} is ${wide} px too wide`);
      };
      await check('first');
      await openDemo(page);
      for (const part of kParts) {
        await page.goto(`${server.address}#/${part}`);
        await check(part);
      }
      await page.goto(`${server.address}#/batches/MW3H6`);
      await page.getByRole('heading', { name: 'Its story' }).waitFor();
      await check('batch');
      assert.deepEqual(wrong, []);
      await context.close();
    }
  });
}
