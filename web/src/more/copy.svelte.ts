// The copy elsewhere: exchanged with the server that gave this page, where there is one, whenever something is new.
import { exchangeWith, onEntries, Refused, type Trouble } from '../engine/client';
import { set, setting } from '../look/settings';
import { nursery } from '../nursery.svelte';

const kDay_ms = 86_400_000;
const kOld_days = 7;
const kLook_ms = 60_000; // for a server that was not there

class Copy {
  /** When both last held the same, ms since 1970; 0: never. */
  last = $state(0);
  /** A server that exchanges is there. */
  served = $state(false);
  trouble = $state.raw<Trouble | null>(null);
  private going = false;
  private again = false;

  get days(): number | null {
    return this.last === 0 ? null : Math.floor((Date.now() - this.last) / kDay_ms);
  }
  get isOld(): boolean {
    return !nursery.demo && nursery.entries > 0 && (this.days ?? 0) >= kOld_days;
  }

  async start(): Promise<void> {
    this.last = await setting('exchanged', 0);
    onEntries(() => void this.meet());
    // Of several pages of one browser one listens: each would hold a connection.
    void navigator.locks.request('strikebed-news', () => this.listen());
  }
  /** Until both hold the same; once more where something came meanwhile. */
  async meet(): Promise<void> {
    if (!this.served || nursery.demo) return;
    if (this.going) {
      this.again = true;
      return;
    }
    this.going = true;
    try {
      do {
        this.again = false;
        await exchangeWith(new URL('exchange', document.baseURI).href);
      } while (this.again);
      this.last = Date.now();
      this.trouble = null;
    } catch (reason) {
      this.trouble = reason instanceof Refused ? reason.trouble : { message: String(reason), problem: String(reason) };
    } finally {
      this.going = false;
    }
  }
  async copied(): Promise<void> {
    this.last = Date.now();
    await set('exchanged', this.last);
  }

  private async listen(): Promise<void> {
    while (!(await isServed())) await new Promise((resume) => setTimeout(resume, kLook_ms));
    this.served = true;
    const news = new EventSource('./news');
    news.addEventListener('entries', () => void this.meet());
    await new Promise(() => {}); // as long as this page is open
  }
}

async function isServed(): Promise<boolean> {
  try {
    const about = await fetch('./about');
    return about.ok && ((await about.json()) as { program?: string }).program === 'strikebed';
  } catch {
    return false;
  }
}

export const copy = new Copy();
