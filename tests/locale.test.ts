// Days and amounts as locales write them, against the Unicode CLDR as the engine carries it (Intl). What is written here
// without asking the engine must be what it would say.
import { describe, expect, it } from 'vitest';
import { localeOf } from '../src/layout/locale.js';

const days = Array.from({ length: 366 }, (_, n) => new Date(Date.UTC(2028, 0, 1 + n)).toISOString().slice(0, 10));
const amounts = ['0', '7', '0.00', '9.5', '999.99', '1000.00', '12345.678', '999999', '1234567.50', '123456789012.34', '-0.50', '-1234.00'];

describe.each(['en-GB', 'en-IE', 'en-AU', 'en', 'en-US', 'de', 'de-DE', 'de-AT', 'de-CH', 'en-ZA', 'en-IN', 'en-PL'])('in %s', (name) => {
  const locale = localeOf(name);

  it('each day of a year is written as CLDR has it, short and long', () => {
    for (const length of ['medium', 'long'] as const) {
      const { format } = new Intl.DateTimeFormat(name, { dateStyle: length, timeZone: 'UTC' });
      for (const day of days) expect(locale.day(day, length)).toBe(format(new Date(`${day}T00:00:00Z`)));
    }
  });

  it('an amount keeps its digits and gets the signs that CLDR has', () => {
    for (const amount of amounts) {
      const digits = amount.split('.')[1]?.length ?? 0;
      const format = new Intl.NumberFormat(name, { minimumFractionDigits: digits, maximumFractionDigits: digits });
      expect(locale.amount(amount)).toBe(format.format(Number(amount)));
    }
    expect(locale.sign).toBe(new Intl.NumberFormat(name).format(0.5)[1]);
  });
});

it('an amount of more digits than a number of the engine holds loses none', () => {
  expect(localeOf('en-GB').amount('12345678901234567.89')).toBe('12,345,678,901,234,567.89');
});
