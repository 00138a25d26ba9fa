// Days as people here write them.
const written = new Intl.DateTimeFormat('en-GB', {
  weekday: 'short',
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
});

/** "2027-02-06" as "Sat 6 Feb 2027". */
export function dayWords(day: string): string {
  const date = new Date(`${day.slice(0, 10)}T00:00:00Z`);
  return Number.isNaN(date.getTime()) ? day : written.format(date).replaceAll(',', '');
}

/** Today by the clock on the wall. */
export function today(): string {
  const date = new Date();
  return new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

export function percent(share: number): string {
  const hundredths = Math.round(share * 100);
  if (hundredths === 100 && share < 1) return 'over 99 %';
  if (hundredths === 0 && share > 0) return 'under 1 %';
  return `${hundredths} %`;
}
