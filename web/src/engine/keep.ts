// What this browser keeps: the entries of the daybook, files, settings. A write is done when it is on the disk.
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

interface Kept extends DBSchema {
  entries: { key: string; value: string };
  files: { key: string; value: string };
  settings: { key: string; value: unknown };
}

export type Keep = IDBPDatabase<Kept>;

export function openKeep(): Promise<Keep> {
  return openDB<Kept>('strikebed', 1, {
    upgrade(keep) {
      keep.createObjectStore('entries');
      keep.createObjectStore('files');
      keep.createObjectStore('settings');
    },
  });
}

/** The id of an entry from its text. */
function idOf(entry: string): string {
  return (JSON.parse(entry) as { id: string }).id;
}

/** All of them or none. */
export async function keepEntries(keep: Keep, entries: string[]): Promise<void> {
  const writing = keep.transaction('entries', 'readwrite', { durability: 'strict' });
  for (const entry of entries) void writing.store.put(entry, idOf(entry));
  await writing.done;
}

export async function replaceEntries(keep: Keep, entries: string[]): Promise<void> {
  const writing = keep.transaction('entries', 'readwrite', { durability: 'strict' });
  void writing.store.clear();
  for (const entry of entries) void writing.store.put(entry, idOf(entry));
  await writing.done;
}

export async function setSetting(keep: Keep, name: string, value: unknown): Promise<void> {
  await keep.put('settings', value, name);
}

export async function settingOr<T>(keep: Keep, name: string, otherwise: T): Promise<T> {
  const value = await keep.get('settings', name);
  return value === undefined ? otherwise : (value as T);
}
