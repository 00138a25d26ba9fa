// Asks the workers: one keeps the daybook and answers at once, the other thinks about the season for seconds. Each has an
// engine of its own, so that a note never waits for a plan.
import type { Asked, FromWorker, News, ToWorker } from './messages';
import EngineWorker from './worker?worker';

/** An error as the engine says it. */
export interface Trouble {
  message: string;
  problem: string;
  allowed?: string | null;
  field?: string | null;
  others?: Trouble[];
}
export class Refused extends Error {
  readonly trouble: Trouble;
  constructor(trouble: Trouble) {
    super(trouble.message);
    this.trouble = trouble;
  }
}

export type Stage = NonNullable<FromWorker['stage']>;

interface Waiting {
  done(document: string): void;
  refused(reason: Refused): void;
  show?: ((stage: Stage) => void) | undefined;
}

const keeper = new EngineWorker();
const thinker = new EngineWorker();
const kLong = ['plan', 'today', 'forecast', 'profile'];
const workerFor = (useCase: string) => (kLong.includes(useCase) ? thinker : keeper);
const waiting = new Map<number, Waiting>();
const listeners = new Set<(entries: number) => void>();
let last = 0;

keeper.onmessage = thinker.onmessage = ({ data }: MessageEvent<FromWorker | News>) => {
  if ('news' in data) {
    for (const listener of listeners) listener(data.news.entries);
    return;
  }
  const one = waiting.get(data.id);
  if (one === undefined) return;
  if (data.stage !== undefined) one.show?.(data.stage);
  if (data.answer === undefined) return;
  waiting.delete(data.id);
  if (data.answer.ok) one.done(data.answer.document);
  else one.refused(new Refused(troubleIn(data.answer.document)));
};

function troubleIn(document: string): Trouble {
  try {
    return (JSON.parse(document) as { error: Trouble }).error;
  } catch {
    return { message: document, problem: document };
  }
}

function send(worker: Worker, asked: Asked, show?: (stage: Stage) => void): { id: number; answer: Promise<string> } {
  last += 1;
  const id = last;
  const answer = new Promise<string>((done, refused) => waiting.set(id, { done, refused, show }));
  worker.postMessage({ id, asked } satisfies ToWorker);
  return { id, answer };
}

/** The document of a use case, as text. */
export function askText(useCase: string, request: Record<string, unknown>): Promise<string> {
  return send(workerFor(useCase), { kind: 'ask', useCase, request, stages: false }).answer;
}

/** The document of a use case. */
export async function ask<T>(useCase: string, request: Record<string, unknown> = {}): Promise<T> {
  return JSON.parse(await askText(useCase, request)) as T;
}

/** A question that is asked again and again: the one before is dropped, its answer never comes. */
export class Asking {
  private going = 0;

  constructor(private readonly useCase: string) {}

  async ask<T>(request: Record<string, unknown>, show: (stage: Stage) => void): Promise<T> {
    if (this.going !== 0) {
      workerFor(this.useCase).postMessage({ id: this.going, asked: { kind: 'drop' } });
      waiting.delete(this.going);
    }
    const { id, answer } = send(
      workerFor(this.useCase),
      { kind: 'ask', useCase: this.useCase, request, stages: true },
      show,
    );
    this.going = id;
    try {
      return JSON.parse(await answer) as T;
    } finally {
      if (this.going === id) this.going = 0;
    }
  }
}

/** It is on the disk when this is done. */
export async function note<T>(request: Record<string, unknown>): Promise<T> {
  return JSON.parse(await send(keeper, { kind: 'note', useCase: 'note', request }).answer) as T;
}

/** The plan that was asked last, and its goal. */
export async function notePlan(request: Record<string, unknown>): Promise<void> {
  await send(thinker, { kind: 'note', useCase: 'note plan', request }).answer;
}

export async function take(document: string, anew: boolean): Promise<{ new: number; entries: number }> {
  return JSON.parse(await send(keeper, { kind: 'take', document, anew }).answer) as { new: number; entries: number };
}

export async function keepFile(path: string, text: string | null): Promise<void> {
  await Promise.all([keeper, thinker].map((worker) => send(worker, { kind: 'file', path, text }).answer));
}

export function exportDaybook(): Promise<string> {
  return send(keeper, { kind: 'export' }).answer;
}

export async function exchangeWith(address: string): Promise<number> {
  return (JSON.parse(await send(keeper, { kind: 'exchange', address }).answer) as { brought: number }).brought;
}

/** Called whenever entries came; returns how to stop. */
export function onEntries(listener: (entries: number) => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
