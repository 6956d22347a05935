import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { languageOf, type Words, wordsOf } from '../words/words.js';
import { once } from '../once.js';
import type { Measure } from './page.js';

/** What blocks are set with: the measure of the font, the words of the language, figures and dates as the locale writes them. */
export interface Setting extends Measure {
  readonly words: Words;
  /** A figure that was computed, `8.72 N·m`, with the decimal sign of the locale. No digit changes. */
  figure(text: string): string;
  /** An amount of money, `1234.50`, with the signs of the locale and the digits that it has. */
  money(amount: string): string;
  /** A calendar day, `2026-11-04`, as the locale writes it. */
  date(day: string): string;
  longDate(day: string): string;
}

export function settingOf(job: CompiledJob, measure: Measure): Setting {
  const { locale } = job.shop;
  const { sign, medium, long, amounts } = formatsOf(locale);
  const dated = (format: Intl.DateTimeFormat) => (day: string) =>
    /^\d{4}-\d\d-\d\d$/.test(day) ? format.format(new Date(`${day}T00:00:00Z`)) : day;
  return {
    width: (text, size, weight) => measure.width(text, size, weight),
    words: wordsOf(languageOf(job.shop.language)),
    figure: (text) => (sign === '.' ? text : text.replace(/(?<![\w.])(\d+)\.(\d+)(?![\w.])/g, `$1${sign}$2`)),
    money: (amount) => amounts(amount.split('.')[1]?.length ?? 0).format(Number(amount)),
    date: dated(medium),
    longDate: dated(long),
  };
}

interface Formats {
  /** The decimal sign. */
  readonly sign: string;
  readonly medium: Intl.DateTimeFormat;
  readonly long: Intl.DateTimeFormat;
  /** @param digits after the decimal sign */
  readonly amounts: (digits: number) => Intl.NumberFormat;
}

/** To make them takes longer than a page; a shop has one locale, and a run few. */
const formats = new Map<string, Formats>();

const formatsOf = (locale: string): Formats =>
  once(formats, locale, () => {
    const day = (dateStyle: 'medium' | 'long') => new Intl.DateTimeFormat(locale, { dateStyle, timeZone: 'UTC' });
    const amounts = new Map<number, Intl.NumberFormat>();
    return {
      sign: new Intl.NumberFormat(locale).formatToParts(0.5).find((part) => part.type === 'decimal')?.value ?? '.',
      medium: day('medium'),
      long: day('long'),
      amounts: (digits) =>
        once(amounts, digits, () => new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits })),
    };
  });
