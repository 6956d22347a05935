import { inWords } from '../../library/names-in-words.js';
import { nominalOf } from '../../quantity/quantity.js';
import { convert } from '../../quantity/units.js';
import { spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/coarse-instrument',
  severity: 'error',
  finds: 'An instrument that resolves no finer than a quarter of the limit.',
  why: 'With marks of 0.1 mm nobody can tell 0.05 from 0.08 (common practice, no source).',
  mend: 'Name a finer instrument.',
  bad: procedure(
    'measurements:\n  height: { name: height, limit: max 0.05 mm, with: dial gauge, resolution: 0.05 mm, outside: Stop. } # <-\nsteps:\n  - measure: height\n',
  ),
  good: procedure(
    'measurements:\n  height: { name: height, limit: max 0.05 mm, with: dial gauge, resolution: 0.01 mm, outside: Stop. }\nsteps:\n  - measure: height\n',
  ),
  check(context, tell) {
    const tools = context.library.shop?.tools ?? {};
    for (const document of [...context.vehicles, ...context.works]) {
      for (const one of Object.values(document.measurements ?? {})) {
        const { limit, resolution } = one;
        if (!limit || !resolution || limit.unit.dimension !== resolution.unit.dimension || limit.unit.dimension === 'temperature') continue;
        const span = limit.low && limit.high ? limit.high.minus(limit.low) : (limit.high ?? limit.low ?? nominalOf(limit)).abs();
        // What goes in or does not needs one leaf or step within the limit.
        const marks = isGauge(one.with, tools) ? 1 : 4;
        // Nothing at all, as of a pressure that is gone, is read at the first mark.
        if (span.isZero()) continue;
        if (convert(nominalOf(resolution), resolution.unit, limit.unit).times(marks).gt(span))
          tell({
            span: spanOf(one, 'resolution'),
            message: `An instrument with ${resolution.text} cannot tell whether ${limit.text} is met: ${marks === 1 ? 'its steps must be no wider than that' : 'it must resolve a quarter of that, better a tenth'}. Name a finer one.`,
          });
      }
    }
  },
};

/** Leaves and plugs that go in or do not, by their names; common practice, no source. In the languages of the tool. */
const gauges =
  /\b(feeler|thickness|plug|go|gap)( ?gauges?\b|s\b)|f(ü|ue)hl(er)?(blatt|bl(ä|ae)tter|lehren?)|ventillehren?|blattlehren?|grenzlehr|lehrdorn/;

const isGauge = (name: string | undefined, tools: Readonly<Record<string, { readonly name?: string }>>): boolean =>
  name !== undefined && gauges.test(inWords(name, tools[name]?.name));
