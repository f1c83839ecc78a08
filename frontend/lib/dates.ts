/** Days as 2006-01-02. */

/** True for a day that exists, written as 2006-01-02. */
export function isDate(value: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(value)) return false;
  const when = new Date(`${value}T00:00:00Z`);
  return !Number.isNaN(when.getTime()) && when.toISOString().startsWith(value);
}

const DAY_MS = 86_400_000;

/** Whole days from one date to another, both 2006-01-02; 0 when either is no date. */
export function daysBetween(from: string, to: string): number {
  const days = (Date.parse(`${to.slice(0, 10)}T00:00:00Z`) - Date.parse(`${from.slice(0, 10)}T00:00:00Z`)) / DAY_MS;
  return Number.isFinite(days) ? Math.max(0, Math.round(days)) : 0;
}

/** The date so many days after another, both 2006-01-02. */
export function daysAfter(from: string, days: number): string {
  return new Date(Date.parse(`${from}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

/** The reader's own date, 2006-01-02. */
export function dateOf(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
