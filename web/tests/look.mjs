// Screenshots of every part, phone and desktop, for a person to look at: node tests/look.mjs FOLDER
import { mkdirSync } from 'node:fs';
import { chromium, devices } from 'playwright-core';
import { servePage } from './serve.mjs';

const folder = process.argv[2] ?? 'pictures';
mkdirSync(folder, { recursive: true });
const server = await servePage();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
const sizes = { phone: devices['Pixel 7'], desk: { viewport: { width: 1280, height: 900 } } };
for (const [size, how] of Object.entries(sizes)) {
  const context = await browser.newContext({ ...how, serviceWorkers: 'block' });
  const page = await context.newPage();
  page.on('console', (message) => message.type() === 'error' && console.log(size, message.text()));
  page.on('pageerror', (error) => console.log(size, String(error)));
  const shoot = async (name) => {
    await page.waitForTimeout(400);
    await page.screenshot({ path: `${folder}/${size}-${name}.png`, fullPage: name !== 'season' });
  };
  await page.goto(server.address);
  await page.getByRole('button', { name: 'Open the demo nursery' }).waitFor();
  await shoot('first');
  await page.getByRole('button', { name: 'Open the demo nursery' }).click();
  await page.getByRole('heading', { name: 'The whole plan' }).waitFor({ timeout: 60_000 });
  await page.waitForTimeout(1500);
  await shoot('season');
  await page.screenshot({ path: `${folder}/${size}-season-all.png`, fullPage: true });
  for (const part of ['today', 'bench', 'batches', 'mixes', 'weather', 'more']) {
    await page.goto(`${server.address}#/${part}`);
    await page.locator('.working').first().waitFor({ state: 'detached', timeout: 60_000 });
    await shoot(part);
  }
  await page.goto(`${server.address}#/bench`);
  for (const cuttings of [4, 4, 3]) {
    for (let i = 0; i < cuttings; i += 1) await page.getByRole('button', { name: /^One more good cutting/ }).click();
    if (cuttings === 4) await page.getByRole('button', { name: /^Into the solution/ }).click();
  }
  await shoot('session');
  await page.goto(`${server.address}#/batches/6826Y`);
  await page.getByRole('heading', { name: 'Its story' }).waitFor();
  await shoot('batch');
  await context.close();
}
await browser.close();
await server.stop();
