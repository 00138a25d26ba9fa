// One note: typed or tapped, understood, on the disk, or why not; and back again.
import { note, Refused, type Trouble } from '../engine/client';
import { nursery } from '../nursery.svelte';
import type { Noted } from './batch';

export class Taking {
  noted = $state.raw<Noted | null>(null);
  trouble = $state.raw<Trouble | null>(null);
  busy = $state(false);

  /** Whether it was taken. */
  async take(line: string, more: Record<string, unknown> = {}): Promise<boolean> {
    return this.ask({ line, ...more });
  }
  async undo(): Promise<void> {
    const last = this.noted?.entries.at(-1);
    if (last === undefined) return;
    if (await this.ask({ undo: true, words: [`#${last.id}`] })) this.noted = null;
  }
  private async ask(request: Record<string, unknown>): Promise<boolean> {
    if (this.busy) return false; // a drop of water on the screen taps twice
    this.busy = true;
    this.trouble = null;
    try {
      this.noted = await note<Noted>({ ...request, ...nursery.now });
      return true;
    } catch (reason) {
      if (!(reason instanceof Refused)) throw reason;
      this.trouble = reason.trouble;
      return false;
    } finally {
      this.busy = false;
    }
  }
}
