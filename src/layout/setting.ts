import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { languageOf, type Words, wordsOf } from '../words/words.js';
import { localeOf } from './locale.js';
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
  const { sign, amount, day } = localeOf(job.shop.locale);
  const isDay = /^\d{4}-\d\d-\d\d$/;
  return {
    width: (text, size, weight) => measure.width(text, size, weight),
    words: wordsOf(languageOf(job.shop.language)),
    figure: (text) => (sign === '.' ? text : text.replace(/(?<![\w.])(\d+)\.(\d+)(?![\w.])/g, `$1${sign}$2`)),
    money: amount,
    date: (written) => (isDay.test(written) ? day(written, 'medium') : written),
    longDate: (written) => (isDay.test(written) ? day(written, 'long') : written),
  };
}
