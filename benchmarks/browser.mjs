// What the engine costs in a page: a whole plan against the program of this machine, and a plan that is asked again after
// one change. Both in turn, in processor time, because other work on the machine stretches the clock. docs/browser.md
//   node benchmarks/browser.mjs [REPETITIONS] [--write]     after: cmake --build --preset browser, --preset release
// --write also puts the tables into docs/browser.md.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { DONE, GOING, loadEngine } from '../src/browser/engine.mjs';

const [BEGIN, END] = ['<!-- measured: begin -->', '<!-- measured: end -->'];
const PLAN_AT_MOST = 1.5; // times the program's time
const CHANGE_AT_MOST = { quick: 75, number: 250, dates: 700 }; // ms, of the median
const given = process.argv.slice(2);
const repetitions = Number(given.find((word) => !word.startsWith('--')) ?? 7);
const lines = [];
const print = (line) => { lines.push(line); console.log(line); };
const root = dirname(dirname(fileURLToPath(import.meta.url)));
const bytes = readFileSync(`${root}/build/browser/strikebed.wasm`);
const program = `${root}/build/release/strikebed`;
const today = '2026-11-25';
const records = ['weather/seattle-2012-2015.csv', '../demo/weather/seattle-2012-2015.csv'];
const record = readFileSync(`${root}/demo/weather/seattle-2012-2015.csv`, 'utf8');
const goals = Object.fromEntries(['demo', 'benchmarks'].map((folder) => [folder, readFileSync(`${root}/${folder}/goal.toml`, 'utf8')]));

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];
/** Milliseconds of processor time of this process so far, those of the JavaScript compiler among them. */
const spent = () => { const { user, system } = process.cpuUsage(); return (user + system) / 1000; };

async function engineInAPage() {
  const engine = await loadEngine(bytes);
  engine.begin('keep', { time_zones: ['America/Los_Angeles'], files: Object.fromEntries(records.map((name) => [name, record])) });
  return engine;
}

/** Plans; from the beginning to each stage and to the longest step, in processor time and by the clock. */
function plan(engine, text, others = {}) {
  const [cpu, clock] = [spent(), performance.now()];
  const stages = {};
  let longest = 0;
  let step = spent();
  let answer = engine.begin('plan', { goal: { file: 'goal.toml', text }, weather: records[0], today, ...others });
  while (answer.status === GOING) {
    longest = Math.max(longest, spent() - step);
    const { stage } = JSON.parse(answer.document);
    if (stage !== null) stages[stage] ??= spent() - cpu;
    step = spent();
    answer = engine.step();
  }
  if (answer.status !== DONE) throw new Error(answer.document);
  return { ...stages, whole: spent() - cpu, clock: performance.now() - clock, longest };
}

/** The same by the program with one thread. */
function nativePlan(folder) {
  const timed = `TIMEFORMAT='%U %S'; time "$0" plan goal.toml --weather ../demo/${records[0]} --today ${today} --threads 1 --json >/dev/null 2>&1`;
  const said = execFileSync('bash', ['-c', `{ ${timed}; } 2>&1`, program], { cwd: `${root}/${folder}`, encoding: 'utf8' });
  return said.trim().split(' ').reduce((sum, seconds) => sum + 1000 * Number(seconds), 0);
}

const load = loadavg()[0].toFixed(2);
print(`Measured on ${new Date().toISOString().slice(0, 10)} by \`benchmarks/browser.mjs\` with node ${process.version} on ${cpus()[0].model}; `
  + `medians of ${repetitions}; load average ${load} before.`);
print('');
print(`| plan | program | module just loaded | times | module that has made one | times (target ${PLAN_AT_MOST}) | met |`);
print('| --- | --- | --- | --- | --- | --- | --- |');
for (const [folder, text] of Object.entries(goals)) {
  const [native, fresh, again] = [[], [], []];
  for (let i = 0; i < repetitions; i += 1) {
    native.push(nativePlan(folder));
    const engine = await engineInAPage();
    fresh.push(plan(engine, text).whole);
    again.push(plan(engine, text, { random_seed: 2 + i }).whole);
  }
  const times = (values) => median(values.map((value, i) => value / native[i]));
  const ms = (values) => `${Math.round(median(values))} ms`;
  print(`| ${folder}/goal.toml | ${ms(native)} | ${ms(fresh)} | ${times(fresh).toFixed(2)} | ${ms(again)} | `
    + `${times(again).toFixed(2)} | ${times(again) <= PLAN_AT_MOST ? 'yes' : 'no'} |`);
}

// The changes that season_benchmark makes too.
const changes = {
  count: ['count     = 60', 'count = 66'],
  assurance: ['assurance = 0.90', 'assurance = 0.85'],
  rate: ['usable      = 0.88', 'usable = { good = 40, of = 50, batch_spread = 0.3 }'],
  by: ['by        = 2027-10-01', 'by = 2027-09-24'],
  room: ['cuttings_at_most = 48', 'cuttings_at_most = 40'],
  weekday: ['["Saturday", "Sunday"]', '["Wednesday", "Saturday", "Sunday"]'],
};
print('');
print('| changed | quick | number | sowing dates | whole | longest step | met |');
print('| --- | --- | --- | --- | --- | --- | --- |');
print(`| target | ${Object.values(CHANGE_AT_MOST).map((ms) => `${ms} ms`).join(' | ')} | | | |`);
for (const [what, [from, to]] of Object.entries(changes)) {
  const text = goals.benchmarks;
  const changed = text.replace(from, to);
  if (changed === text) throw new Error(`the goal has no ${from}`);
  const engine = await engineInAPage();
  plan(engine, text);
  const runs = [];
  for (let i = 0; i < repetitions; i += 1) runs.push(plan(engine, i % 2 === 0 ? changed : text));
  const took = Object.fromEntries(['quick', 'number', 'dates', 'whole', 'longest'].map((stage) => [stage, median(runs.map((run) => run[stage]))]));
  const late = Object.entries(CHANGE_AT_MOST).filter(([stage, ms]) => took[stage] > ms)
    .map(([stage, ms]) => `${stage} ${(took[stage] / ms).toFixed(2)} times`);
  const met = late.length > 0 ? `no: ${late.join(', ')}` : 'yes';
  print(`| ${what} | ${Object.values(took).map((ms) => `${Math.round(ms)} ms`).join(' | ')} | ${met} |`);
}

if (given.includes('--write')) {
  const page = `${root}/docs/browser.md`;
  const [before, rest] = readFileSync(page, 'utf8').split(BEGIN);
  writeFileSync(page, `${before}${BEGIN}\n${lines.join('\n')}\n${END}${rest.split(END)[1]}`);
}
