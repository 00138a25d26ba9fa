// What all parts of the page share: how many entries there are, the goal that is thought about, the day it is.
import { askText, keepFile, onEntries, take } from './engine/client';
import { today } from './look/days';
import { entriesKept, set, setting } from './look/settings';
import demoDaybook from '../../demo/three-seasons.json?url';
import demoGoal from '../../demo/goal.toml?raw';
import demoWeather from '../../demo/weather/with-the-three-seasons.csv?url';

/** A Saturday in its third season, with seedlings to cut. */
const kDemoDay = '2026-05-23';

export interface Choices {
  species: { id: string; name: string }[];
  methods: { id: string; name: string; base_form: string; soak_s: number; group: number; stem_length_mm: number }[];
  notes: { word: string; says: string; example: string }[];
}

class Nursery {
  entries = $state(0);
  /** The goal that the Season part asks about, as a goal file; empty: none yet. */
  goal = $state('');
  /** The invented nursery is open. */
  demo = $state(false);
  open = $state(false);
  choices = $state.raw<Choices>({ species: [], methods: [], notes: [] });
  /** Grows with every entry, so that what shows them asks again. */
  changed = $state(0);

  async start(): Promise<void> {
    onEntries((entries) => {
      this.entries = entries;
      this.changed += 1;
      void setting('demo', false).then((is) => (this.demo = is)); // another page of this browser may have opened it
    });
    this.entries = await entriesKept();
    this.goal = await setting('goal', '');
    this.demo = await setting('demo', false);
    this.choices = JSON.parse(await askText('choices', {})) as Choices;
    this.open = true;
  }
  /** The day it is, here. */
  get today(): string {
    return this.demo ? kDemoDay : today();
  }
  /** For a request that notes something: the clock's own moment, or on the demo day the time of day that it is. */
  get now(): { now?: string } {
    if (!this.demo) return {};
    const date = new Date();
    const wall = new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString();
    return { now: `${kDemoDay}${wall.slice(10, 23)}-07:00` };
  }
  async setGoal(text: string): Promise<void> {
    this.goal = text;
    await set('goal', text);
  }
  /** Only where there is nothing to lose. It is said to be the demo before its entries come: they go to no server. */
  async openDemo(): Promise<void> {
    if ((await entriesKept()) > 0) return;
    await this.setDemo(true);
    const [daybook, weather] = await Promise.all(
      [demoDaybook, demoWeather].map((address) => fetch(address).then((answer) => answer.text())),
    );
    await keepFile('weather/seattle-2012-2015.csv', weather!);
    const { entries } = JSON.parse(daybook!) as { entries: { happened: string }[] };
    const until = entries.filter((entry) => entry.happened < kDemoDay);
    await take(JSON.stringify({ daybook: 1, entries: until }), true);
    await this.setGoal(demoGoal);
  }
  async closeDemo(): Promise<void> {
    if (!this.demo) return;
    await keepFile('weather/seattle-2012-2015.csv', null);
    await take('{"daybook":1,"entries":[]}', true);
    await this.setGoal('');
    await this.setDemo(false);
  }
  private async setDemo(is: boolean): Promise<void> {
    this.demo = is;
    await set('demo', is);
  }
}

export const nursery = new Nursery();
