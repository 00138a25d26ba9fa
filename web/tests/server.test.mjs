// The page on the program's own server: two phones apart, then merged; the server gone and back.
import assert from 'node:assert/strict';
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { after, before, test } from 'node:test';
import { devices } from 'playwright-core';
import { entriesIn, openBrowser, phone, until } from './driving.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = join(root, 'build/release/strikebed');
const folder = mkdtempSync(join(tmpdir(), 'serve-'));
const daybook = ['--daybook', join(folder, 'nursery.strikebed')];

let browser;
before(async () => {
  browser = await openBrowser();
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

function serve(port = 0) {
  const server = spawn(program, ['serve', '--port', String(port), '--page', join(root, 'web/dist'), ...daybook]);
  return new Promise((listening, failed) => {
    server.stdout.on('data', (said) => {
      const address = /http:\S+/.exec(String(said))?.[0];
      listening({
        address: address.endsWith('/') ? address : `${address}/`,
        stop: () =>
          new Promise((ended) => {
            server.on('exit', ended);
            server.kill('SIGINT');
          }),
      });
    });
    let complaint = '';
    server.stderr.on('data', (said) => (complaint += said));
    server.on('exit', () => failed(new Error(complaint)));
  });
}

async function noteIn(page, line) {
  await page.getByLabel(/^A note, as you would say it/).fill(line);
  await page.getByRole('button', { name: 'Note it' }).last().click();
  await page.getByText(/^Taken:/).waitFor();
}
const idsIn = async (page) => (await entriesIn(page)).map(({ id }) => id).sort();
const exported = () => {
  const { stdout } = spawnSync(program, ['export', ...daybook], { encoding: 'utf8' });
  return JSON.parse(stdout)
    .entries.map(({ id }) => id)
    .sort();
};

test('two phones that were apart, and the server, come to hold the same', async () => {
  let server = await serve();
  const port = new URL(server.address).port;
  const open = async () => {
    const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
    const { page } = await phone(context, server.address);
    await page.goto(`${server.address}#/batches`);
    await page.getByLabel(/^A note, as you would say it/).waitFor();
    return page;
  };
  const [ann, ben] = [await open(), await open()];
  await noteIn(ann, 'lot "ridge" pinus-thunbergii 400 seeds');
  await until(async () => (await idsIn(ben)).length === 1, 'the lot on the other phone');
  await server.stop();
  await noteIn(ann, 'sow lot "ridge" 60 bench tray');
  await noteIn(ben, 'sow lot "ridge" 80 bench tray');
  await noteIn(ben, 'remark "rain all day"');
  assert.notDeepEqual(await idsIn(ann), await idsIn(ben));
  server = await serve(port);
  await until(async () => {
    const [one, other] = [await idsIn(ann), await idsIn(ben)];
    return one.length === 6 && one.join() === other.join();
  }, 'the same on both phones');
  assert.deepEqual(exported(), await idsIn(ann));
  // One noted the same batch that the other made.
  const code = (await ann.locator('.batches .code').first().innerText()).trim();
  await noteIn(ben, `count ${code} emerged 12`);
  await until(async () => (await idsIn(ann)).length === 7, 'the count on the first phone');
  await ann.goto(`${server.address}#/batches/${code}`);
  await ann.getByText(/counted: emerged 12/).waitFor();
  await server.stop();
});

test("the demo nursery never comes to the server, nor over entries of one's own", async () => {
  const before_ = exported();
  const server = await serve();
  const context = await browser.newContext({ ...devices['Pixel 7'], serviceWorkers: 'block' });
  const { page } = await phone(context, server.address);
  await page.route('**/news', (route) => route.abort()); // as if the server had nothing to tell yet
  await page.goto(server.address);
  await page.getByRole('button', { name: 'Open the demo nursery' }).click();
  await page.getByRole('heading', { name: 'The season' }).waitFor();
  await page.goto(`${server.address}#/batches`);
  await noteIn(page, 'remark "invented"');
  await page.waitForTimeout(1500);
  assert.deepEqual(exported(), before_);
  await page.getByRole('button', { name: 'Leave it' }).click();
  await until(
    async () => (await idsIn(page)).length === 0 || (await idsIn(page)).join() === before_.join(),
    'an empty page',
  );
  await noteIn(page, 'remark "my own"');
  await page.goto(`${server.address}#/season`);
  await page.getByRole('button', { name: 'Plan the season' }).waitFor();
  assert.equal(await page.getByRole('button', { name: 'Open the demo nursery' }).count(), 0);
  await context.close();
  await server.stop();
});
