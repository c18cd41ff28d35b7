/** A link's end as the day in a date field: it ends when that day ends, where the owner is. */

/** The first moment after a day that a date field names; null when the field is empty. */
export function endOfDay(text: string): number | null {
  const parts = /^(\d{4,6})-(\d\d)-(\d\d)$/.exec(text);
  return parts ? new Date(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3]) + 1).getTime() : null;
}

/** The day in a date field that `endsAt` is the end of; empty for no end. */
export function dayOf(endsAt: number | null): string {
  if (endsAt === null) return '';
  const day = new Date(endsAt - 1);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(day.getFullYear()).padStart(4, '0')}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
