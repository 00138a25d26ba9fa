// Every part in both themes and three sizes: WCAG 2.2 AA as far as a program can tell, and nothing wider than the screen.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { AxeBuilder } from '@axe-core/playwright';
import { devices } from 'playwright-core';
import { openDemo, pageAndBrowser, phone } from './driving.mjs';

const kParts = ['season', 'today', 'bench', 'batches', 'mixes', 'weather', 'more'];

const { server, browser } = await pageAndBrowser();

for (const colorScheme of ['light', 'dark']) {
  test(`every part can be used by everybody, ${colorScheme}`, async () => {
    for (const how of [
      devices['Pixel 7'],
      { viewport: { width: 320, height: 640 } },
      { viewport: { width: 1280, height: 900 } },
    ]) {
      const context = await browser.newContext({ ...how, colorScheme, serviceWorkers: 'block' });
      const { page, wrong } = await phone(context, server.address);
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
      await openDemo(page, server.address);
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
