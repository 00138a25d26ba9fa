// The engine and the entries in one place: what is noted is on the disk before it is said to be taken.
/// <reference lib="webworker" />
import engineAddress from '../../../build/browser/strikebed.wasm?url';
import { DONE, loadEngine } from '../../../src/browser/engine.mjs';
import { keepEntries, openKeep, replaceEntries, settingOr, setSetting, type Keep } from './keep';
import type { Asked, Dropped, FromWorker, News, ToWorker } from './messages';

interface Answer {
  status: number;
  document: string;
}
interface Engine {
  begin(useCase: string, request: unknown): Answer;
  ask(useCase: string, request: unknown, show?: (stage: unknown) => boolean): Promise<Answer | null>;
}

/** What came to the daybook, for the other workers and pages of this browser. */
interface Came {
  anew: boolean;
  entries: string[];
}
/** All entries that are on the disk: what a new engine is given after one that broke off, which cannot wait for a read. */
let held: string[] = [];
const others = new BroadcastChannel('strikebed-entries');
const dropped = new Set<number>();
const ready = start();

async function start(): Promise<{ engine: Engine; keep: Keep }> {
  const [keep, bytes] = await Promise.all([openKeep(), fetch(engineAddress).then((answer) => answer.arrayBuffer())]);
  held = await keep.getAll('entries');
  const files = Object.fromEntries(
    await Promise.all((await keep.getAllKeys('files')).map(async (path) => [path, await keep.get('files', path)])),
  );
  const engine = (await loadEngine(bytes, console.error, (fresh: object) => {
    if (held.length > 0) (fresh as Engine).begin('daybook', { entries: held });
  })) as Engine;
  engine.begin('keep', { time_zones: Intl.supportedValuesOf('timeZone'), files });
  return { engine, keep };
}

function say(message: FromWorker | News): void {
  postMessage(message);
}

/** The moment with its offset from UTC, by the clock on the wall. */
function now(): string {
  const date = new Date();
  const minutes = -date.getTimezoneOffset();
  const wall = new Date(date.getTime() + minutes * 60_000).toISOString().slice(0, -1);
  const two = (n: number) => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return `${wall}${minutes < 0 ? '-' : '+'}${two(minutes / 60)}:${two(minutes % 60)}`;
}

function randomDigits(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(512));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** A name for this device that stays, of which batch codes are made. */
async function device(keep: Keep): Promise<string> {
  const known = await settingOr(keep, 'device', '');
  if (known !== '') return known;
  const name = `page ${randomDigits().slice(0, 6)}`;
  await setSetting(keep, 'device', name);
  return name;
}

function entriesIn(engine: Engine): number {
  return (JSON.parse(engine.begin('daybook', {}).document) as { entries: number }).entries;
}

function hold({ anew, entries }: Came): void {
  held = anew ? entries : [...held, ...entries];
}

/** Puts what the engine has taken on the disk, and tells the others; where the disk refuses, the engine forgets it too. */
async function put(engine: Engine, keep: Keep, came: Came): Promise<Answer | null> {
  if (came.entries.length === 0 && !came.anew) return null;
  try {
    await (came.anew ? replaceEntries(keep, came.entries) : keepEntries(keep, came.entries));
  } catch (reason) {
    engine.begin('daybook', { anew: true, entries: held });
    return refused(`this browser could not keep it (${String(reason)}): nothing was noted`);
  }
  hold(came);
  others.postMessage(came);
  say({ id: 0, news: { entries: entriesIn(engine) } });
  return null;
}

async function note(engine: Engine, keep: Keep, useCase: string, request: Record<string, unknown>): Promise<Answer> {
  const who = await settingOr(keep, 'who', '');
  const asked = { who, device: await device(keep), now: now(), random: randomDigits(), ...request };
  const answer = engine.begin(useCase, asked);
  if (answer.status !== DONE) return answer;
  const noted = JSON.parse(answer.document) as { entries: { entry: string }[] };
  const entries = noted.entries.map((one) => one.entry);
  return (await put(engine, keep, { anew: false, entries })) ?? answer;
}

function refused(problem: string): Answer {
  return { status: 1, document: JSON.stringify({ error: { message: problem, problem } }) };
}

async function take(engine: Engine, keep: Keep, document: string, anew: boolean): Promise<Answer> {
  const answer = engine.begin('daybook', { document, anew });
  if (answer.status !== DONE) return answer;
  const entries = (JSON.parse(answer.document) as { kept: string[] }).kept;
  return (await put(engine, keep, { anew, entries })) ?? answer;
}

function sent(address: string, body: string): Promise<Response | null> {
  return fetch(address, { method: 'POST', body, headers: { 'Content-Type': 'text/plain' } }).catch(() => null);
}

async function exchange(engine: Engine, keep: Keep, address: string): Promise<Answer> {
  if (await settingOr(keep, 'demo', false)) return refused('the demo nursery is invented: it is not exchanged');
  let brought = 0;
  let answer = engine.begin('exchange', {});
  for (let turn = 0; turn < 200 && answer.status === DONE; turn += 1) {
    const { message, kept = [] } = JSON.parse(answer.document) as { message: string | null; kept?: string[] };
    const full = await put(engine, keep, { anew: false, entries: kept });
    if (full !== null) return full;
    brought += kept.length;
    if (message === null) break;
    const reply = await sent(address, message);
    if (reply === null) return refused('the server does not answer: what is noted stays here, and is sent later');
    if (reply.status === 204) break;
    if (!reply.ok) return { status: 1, document: await reply.text() };
    answer = engine.begin('exchange', { message: await reply.text() });
  }
  if (answer.status !== DONE) return answer;
  await setSetting(keep, 'exchanged', Date.now());
  return { status: DONE, document: JSON.stringify({ brought }) };
}

async function asked(id: number, what: Asked): Promise<Answer | null> {
  const { engine, keep } = await ready;
  switch (what.kind) {
    case 'ask':
      return engine.ask(what.useCase, what.request, (stage) => {
        if (dropped.has(id)) return false;
        if (what.stages) say({ id, stage: stage as NonNullable<FromWorker['stage']> });
        return true;
      });
    case 'note':
      return note(engine, keep, what.useCase, what.request);
    case 'take':
      return take(engine, keep, what.document, what.anew);
    case 'file':
      if (what.text === null) await keep.delete('files', what.path);
      else await keep.put('files', what.text, what.path);
      return engine.begin('keep', { files: { [what.path]: what.text } });
    case 'export': {
      const entries = await keep.getAll('entries');
      return { status: DONE, document: `{"daybook":1,"entries":[\n${entries.join(',\n')}\n]}\n` };
    }
    case 'exchange':
      return exchange(engine, keep, what.address);
  }
}

// One after the other: the engine answers one question at a time.
let queue: Promise<void> = Promise.resolve();
onmessage = ({ data }: MessageEvent<ToWorker | Dropped>) => {
  if (data.asked.kind === 'drop') {
    dropped.add(data.id);
    return;
  }
  const what = data.asked;
  queue = queue.then(async () => {
    let answer: Answer | null = null;
    if (!dropped.has(data.id)) {
      try {
        answer = await asked(data.id, what);
      } catch (reason) {
        answer = refused(String(reason instanceof Error ? reason.message : reason));
      }
    }
    dropped.delete(data.id);
    if (answer !== null) say({ id: data.id, answer: { ok: answer.status === DONE, document: answer.document } });
  });
};

others.onmessage = ({ data }: MessageEvent<Came>) => {
  queue = queue.then(async () => {
    const { engine } = await ready;
    hold(data);
    engine.begin('daybook', { ...data });
    say({ id: 0, news: { entries: entriesIn(engine) } });
  });
};
