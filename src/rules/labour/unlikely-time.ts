import { numberIn, type Quantity } from '../../quantity/quantity.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

/** Hours of one operation: shorter is a slip of the unit, and so is longer (common practice, no source). */
const [least, most] = [1 / 60, 60];

const took = (time: string, mark = ''): string =>
  procedure(`labour: { look: { says: look, time: ${time} } }${mark}\nsteps:\n  - inspect: leaks\n`);

export const rule: Rule = {
  name: 'labour/unlikely-time',
  severity: 'error',
  finds: 'A time of labour in days, or one that no operation takes.',
  why: 'A day would be billed as twenty-four hours, minutes as hours.',
  mend: 'Write hours or minutes.',
  bad: took('2 d', ' # <-'),
  good: took('16 h'),
  check(context, tell) {
    const look = (holder: object, key: string, time: Quantity | undefined) => {
      const wrong = time && wrongOf(time);
      if (wrong) tell({ span: spanOf(holder, key), ...wrong });
    };
    for (const document of context.works) {
      for (const operation of Object.values(document.labour ?? {})) look(operation, 'time', operation.time);
      for (const find of Object.values(document['might-find'] ?? {})) look(find, 'labour', find.labour);
    }
    for (const vehicle of context.vehicles)
      for (const times of Object.values(vehicle.times ?? {})) for (const [name, time] of Object.entries(times)) look(times, name, time);
  },
};

/** Units in which work is billed, h. All times are looked at, so this is done without exact numbers. */
const inHours: Readonly<Record<string, number>> = { h: 1, min: 1 / 60, s: 1 / 3600 };

function wrongOf(time: Quantity): { readonly message: string; readonly severity?: 'warning' } | null {
  const each = inHours[time.unit.symbol];
  if (each === undefined)
    return {
      message: `“${time.text}” would be billed as ${Math.round(numberIn(time, 'h'))} hours. Write the hours that are worked, for example 8 h for a day.`,
    };
  const hours = Number(time.nominal ?? 1) * each;
  if (hours <= most && (hours >= least || hours === 0)) return null;
  return {
    message: `“${time.text}” is ${hours > most ? 'more' : 'less'} than any operation takes. Is the unit right?`,
    severity: 'warning',
  };
}
