// A goal file as the sentence of the page shows it: read, one place changed, written again.
import { parse, stringify, TomlDate, type TomlTable } from 'smol-toml';

export interface Want {
  base_form: string;
  count: number;
}
export const kWeekdays = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

type Table = TomlTable;

export class GoalText {
  private readonly table: Table;

  constructor(text: string) {
    this.table = parse(text);
  }

  get species(): string {
    return String(this.table.species ?? '');
  }
  get countAt(): string {
    return String(this.table.count_at ?? 'weaned');
  }
  /** As written; empty where it is no whole date. */
  get by(): string {
    const by = this.table.by;
    return by instanceof TomlDate ? by.toISOString().slice(0, 10) : '';
  }
  get percentSure(): number {
    return Math.round(100 * Number(this.table.assurance ?? 0.9));
  }
  get wants(): Want[] {
    return (this.table.want as unknown as Want[] | undefined) ?? [];
  }
  private get sessions(): Table {
    return (this.table.sessions as Table | undefined) ?? {};
  }
  /** Empty: any day, the plan chooses. */
  get weekdays(): string[] {
    return (this.sessions.weekdays as string[] | undefined) ?? [];
  }
  get cuttingsAtMost(): number | null {
    return (this.sessions.cuttings_at_most as number | undefined) ?? null;
  }

  /** The goal with one thing changed, as text. */
  with(change: {
    species?: string;
    countAt?: string;
    by?: string;
    percentSure?: number;
    count?: [want: number, count: number];
    weekdays?: string[];
    cuttingsAtMost?: number | null;
    /** A record in place of all other weather. */
    weather?: string;
  }): string {
    const table = parse(stringify(this.table));
    if (change.species !== undefined) table.species = change.species;
    if (change.countAt !== undefined) table.count_at = change.countAt;
    if (change.by !== undefined) table.by = new TomlDate(change.by);
    if (change.percentSure !== undefined) table.assurance = change.percentSure / 100;
    if (change.count !== undefined) {
      const [want, count] = change.count;
      (table.want as Table[])[want]!.count = count;
    }
    if (change.weather !== undefined) {
      const place = { ...(table.place as Table | undefined), weather: change.weather };
      delete (place as Table).normals;
      table.place = place;
    }
    if (change.weekdays !== undefined || change.cuttingsAtMost !== undefined) {
      const sessions = ((table.sessions as Table | undefined) ??= {});
      table.sessions = sessions;
      if (change.weekdays !== undefined) {
        delete sessions.dates;
        if (change.weekdays.length === 0) delete sessions.weekdays;
        else sessions.weekdays = change.weekdays;
      }
      if (change.cuttingsAtMost === null) delete sessions.cuttings_at_most;
      else if (change.cuttingsAtMost !== undefined) sessions.cuttings_at_most = change.cuttingsAtMost;
    }
    return stringify(table);
  }
}

/** A first goal, from the answers to three questions. */
export function firstGoal(answers: {
  species: string;
  baseForm: string;
  count: number;
  by: string;
  latitude: number;
  longitude: number;
  hottest: { tmin: number; tmax: number };
  coldest: { tmin: number; tmax: number };
}): string {
  return stringify({
    species: answers.species,
    by: new TomlDate(answers.by),
    count_at: 'weaned',
    assurance: 0.9,
    want: [{ base_form: answers.baseForm, count: answers.count }],
    place: {
      latitude: answers.latitude,
      longitude: answers.longitude,
      normals: { hottest: answers.hottest, coldest: answers.coldest },
    },
  });
}
