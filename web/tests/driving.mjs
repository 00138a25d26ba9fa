// How the tests of the page drive it, by role and name.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { after } from 'node:test';
import { chromium } from 'playwright-core';
import { servePage } from './serve.mjs';

const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
const args = ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'];

export function openBrowser() {
  return chromium.launch({ executablePath, args });
}

/** The built page as a web host serves it, and a browser, until the tests of a file are over. */
export async function pageAndBrowser() {
  const [server, browser] = await Promise.all([servePage(), openBrowser()]);
  after(async () => {
    await browser.close();
    await server.stop();
  });
  return { server, browser };
}

/** A page on a phone, of which nothing may go wrong and nothing may go elsewhere. */
export async function phone(context, address) {
  const page = context.pages()[0] ?? (await context.newPage());
  const wrong = [];
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
  page.on('pageerror', (error) => wrong.push(String(error)));
  page.on('request', (request) => {
    const { protocol, host } = new URL(request.url());
    if (!['blob:', 'data:'].includes(protocol) && host !== new URL(address).host) wrong.push(request.url());
  });
  return { page, wrong };
}

export async function openDemo(page, address) {
  await page.goto(address);
  await page.getByRole('button', { name: 'Open the demo nursery' }).click();
  await page.getByRole('heading', { name: 'The season' }).waitFor();
}

/** All entries that this browser keeps, by their ids. */
export function entriesIn(page) {
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
export async function until(ask, what) {
  for (let turn = 0; turn < 300; turn += 1) {
    if (await ask()) return;
    await new Promise((resume) => setTimeout(resume, 100));
  }
  assert.fail(`it never came: ${what}`);
}

/** A browser of its own that can be killed, with what it kept in a folder. */
export async function browserIn(folder) {
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

export async function setGroup(page, cuttings, passedOver) {
  for (let i = 0; i < cuttings; i += 1) await page.getByRole('button', { name: /^One more good cutting/ }).click();
  for (let i = 0; i < passedOver; i += 1) await page.getByRole('button', { name: /^One passed over/ }).click();
  await page.getByRole('button', { name: /^Into the solution/ }).click();
  await page.getByRole('button', { name: /Set them, and tap here/ }).click();
  await page.getByText(/^Taken:/).waitFor();
  await page.getByRole('button', { name: /Set them/ }).waitFor({ state: 'detached' });
}
