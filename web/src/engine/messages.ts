// What the page and its worker say to each other.

/** A request of the engine (docs/browser.md), or what the worker does besides. */
export type Asked =
  | { kind: 'ask'; useCase: string; request: Record<string, unknown>; stages: boolean }
  | { kind: 'note'; useCase: 'note' | 'note plan'; request: Record<string, unknown> }
  | { kind: 'take'; document: string; anew: boolean }
  | { kind: 'file'; path: string; text: string | null }
  | { kind: 'export' }
  | { kind: 'exchange'; address: string };

export interface ToWorker {
  id: number;
  asked: Asked;
}
export interface Dropped {
  id: number;
  asked: { kind: 'drop' };
}

export interface FromWorker {
  id: number;
  /** One of several; the answer is still to come. */
  stage?: { done: number; what: string; stage: string | null; so_far: unknown };
  answer?: { ok: boolean; document: string };
}

/** News that nobody asked for. */
export interface News {
  id: 0;
  news: { entries: number };
}
