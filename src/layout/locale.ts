import { once } from '../once.js';

/** How a locale writes figures, money and days. */
export interface Locale {
  /** The decimal sign. */
  readonly sign: string;
  /** An amount, `1234.50`, with the digits that it has. */
  amount(written: string): string;
  /** A calendar day, `2026-11-04`: short, as `4 Nov 2026`, or with the month written out. */
  day(day: string, length: 'medium' | 'long'): string;
}

/** The habits of the regions that most shops of our languages are in, from the Unicode CLDR, release 48 (en, en-GB, en-IE, de, de-AT). */
interface Habit {
  readonly sign: string;
  /** Between thousands. */
  readonly thousands: string;
  readonly medium: (d: number, m: number, y: number, month: string) => string;
  readonly long: (d: number, y: number, month: string) => string;
  readonly months: readonly string[];
}

const two = (n: number): string => `${n}`.padStart(2, '0');

const english: Habit = {
  sign: '.',
  thousands: ',',
  medium: (d, _m, y, month) => `${d} ${month === 'September' ? 'Sept' : month.slice(0, 3)} ${y}`,
  long: (d, y, month) => `${d} ${month} ${y}`,
  months: 'January February March April May June July August September October November December'.split(' '),
};
const american: Habit = {
  ...english,
  medium: (d, _m, y, month) => `${month.slice(0, 3)} ${d}, ${y}`,
  long: (d, y, month) => `${month} ${d}, ${y}`,
};
const german: Habit = {
  sign: ',',
  thousands: '.',
  medium: (d, m, y) => `${two(d)}.${two(m)}.${y}`,
  long: (d, y, month) => `${d}. ${month} ${y}`,
  months: 'Januar Februar März April Mai Juni Juli August September Oktober November Dezember'.split(' '),
};
const austrian: Habit = { ...german, thousands: '\u00a0', months: ['Jänner', ...german.months.slice(1)] };

const habits: ReadonlyMap<string, Habit> = new Map([
  ['en-GB', english],
  ['en-IE', english],
  ['en', american],
  ['en-US', american],
  ['de', german],
  ['de-DE', german],
  ['de-AT', austrian],
]);

const locales = new Map<string, Locale>();

/**
 * How a locale writes. Where we know it ourselves, the engine is not asked: to open its tables takes longer than to lay
 * out a sheet, and they differ from one release of it to the next, and so would the paper.
 */
export const localeOf = (name: string): Locale =>
  once(locales, name, () => {
    const habit = habits.get(name);
    return habit ? ours(habit) : ofEngine(name);
  });

function ours({ sign, thousands, medium, long, months }: Habit): Locale {
  return {
    sign,
    amount: (written) => {
      const [whole = '', cents] = written.split('.');
      const grouped = whole.replace(/\B(?=(\d{3})+$)/g, thousands);
      return cents ? `${grouped}${sign}${cents}` : grouped;
    },
    day: (day, length) => {
      const [y = 0, m = 1, d = 1] = day.split('-').map(Number);
      const month = months[m - 1] ?? '';
      return length === 'long' ? long(d, y, month) : medium(d, m, y, month);
    },
  };
}

function ofEngine(name: string): Locale {
  const styles = (dateStyle: 'medium' | 'long') => new Intl.DateTimeFormat(name, { dateStyle, timeZone: 'UTC' });
  const days = { medium: styles('medium'), long: styles('long') };
  const amounts = new Map<number, Intl.NumberFormat>();
  return {
    sign: new Intl.NumberFormat(name).formatToParts(0.5).find((part) => part.type === 'decimal')?.value ?? '.',
    amount: (written) => {
      const digits = written.split('.')[1]?.length ?? 0;
      const format = once(
        amounts,
        digits,
        () => new Intl.NumberFormat(name, { minimumFractionDigits: digits, maximumFractionDigits: digits }),
      );
      return format.format(Number(written));
    },
    day: (day, length) => days[length].format(new Date(`${day}T00:00:00Z`)),
  };
}
