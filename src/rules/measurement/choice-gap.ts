import { nominalOf } from '../../quantity/quantity.js';
import { convert } from '../../quantity/units.js';
import { isDamaged, spanOf } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'measurement/choice-gap',
  severity: 'error',
  finds: 'A table of choices with a gap or an overlap.',
  why: 'A reading that falls into the gap gets no gasket, or a guessed one.',
  mend: 'Let each row begin where the one before ends.',
  bad: procedure(
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    table:\n      - { over: 0.5 mm, to: 0.6 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket } # <-\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
  good: procedure(
    'measurements: { height: { name: height, limit: 0.5..0.8 mm, with: dial gauge, outside: Stop. } }\nchoices:\n  grade:\n    name: grade\n    from: height\n    table:\n      - { over: 0.5 mm, to: 0.7 mm, gives: pump }\n      - { over: 0.7 mm, to: 0.8 mm, gives: pump-gasket }\nsteps:\n  - measure: height\n  - choose: grade\n',
  ),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      for (const choice of Object.values(document.choices ?? {})) {
        if (isDamaged(choice.table)) continue;
        const rows = [...choice.table].filter((row) => row.over.unit.dimension === row.to.unit.dimension);
        for (const [index, row] of rows.entries()) {
          const before = rows[index - 1];
          if (nominalOf(row.to).lte(convert(nominalOf(row.over), row.over.unit, row.to.unit)))
            tell({
              span: spanOf(row, 'to'),
              message: `This row ends (${row.to.text}) before it begins (${row.over.text}). Correct one of the two.`,
            });
          if (!before || before.to.unit.dimension !== row.over.unit.dimension) continue;
          const apart = nominalOf(row.over).comparedTo(convert(nominalOf(before.to), before.to.unit, row.over.unit));
          if (apart !== 0)
            tell({
              span: spanOf(row, 'over'),
              message: `There is ${apart > 0 ? 'a gap' : 'an overlap'} between ${before.to.text} and ${row.over.text}. Let this row begin where the one before ends${apart > 0 ? ', or write one between them with `gives: none` where what is in stays' : ''}.`,
            });
        }
      }
    }
  },
};
