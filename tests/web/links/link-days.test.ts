import { afterEach, describe, expect, it } from 'vitest';
import { dayOf, endOfDay } from '../../../web/links/link-days.ts';

const zone = process.env.TZ;

afterEach(() => {
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
});

describe('the last day of a link', () => {
  it.each([
    ['UTC', '2027-02-28', '2027-03-01T00:00:00.000Z'],
    ['Europe/Berlin', '2027-03-28', '2027-03-28T22:00:00.000Z'],
    ['America/New_York', '2027-11-07', '2027-11-08T05:00:00.000Z'],
    ['Asia/Kathmandu', '2028-02-29', '2028-02-29T18:15:00.000Z'],
  ])('[A23] in %s %s ends at %s', (timeZone, day, end) => {
    process.env.TZ = timeZone;
    expect(new Date(endOfDay(day)!).toISOString()).toBe(end);
    expect(dayOf(endOfDay(day))).toBe(day);
  });

  // Clocks change at midnight in Santiago and Beirut (IANA time zone database): a day without its midnight, or with two.
  it.each(['UTC', 'America/Santiago', 'Asia/Beirut', 'Pacific/Apia'])(
    '[A23] every day of a year comes back as itself in %s',
    (timeZone) => {
      process.env.TZ = timeZone;
      for (let n = 0; n < 366; n += 1) {
        const day = new Date(Date.UTC(2027, 0, 1 + n)).toISOString().slice(0, 10);
        expect(dayOf(endOfDay(day))).toBe(day);
      }
    },
  );

  it('[A23] an empty field is no end', () => {
    expect(endOfDay('')).toBeNull();
    expect(dayOf(null)).toBe('');
  });
});
