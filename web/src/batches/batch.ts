// What docs/json.md says of `batches`, as far as it is shown here.
export interface Batch {
  id: string;
  code: string;
  label: string;
  holds: string;
  began: string;
  left: number;
  rooted: number | null;
  undecided: number | null;
  bench: string | null;
  from: { batch: string; code: string; number: number }[];
  into: { batch: string; code: string; number: number }[];
  losses: Record<string, number>;
}
export interface Batches {
  batches: Batch[];
  history?: { id: string; happened: string; text: string }[];
}
export interface Noted {
  entries: { id: string; text: string }[];
  batches: Batch[];
}
