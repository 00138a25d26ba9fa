// What the grower has set on this device.
import { openKeep, settingOr, setSetting, type Keep } from '../engine/keep';

const keep: Promise<Keep> = openKeep();

export async function setting<T>(name: string, otherwise: T): Promise<T> {
  return settingOr(await keep, name, otherwise);
}
export async function set(name: string, value: unknown): Promise<void> {
  await setSetting(await keep, name, value);
}
export async function entriesKept(): Promise<number> {
  return (await keep).count('entries');
}
