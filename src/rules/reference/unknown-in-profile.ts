import { renameFix } from '../../findings/fixes.js';
import { didYouMean, isTypo, Names, nearest } from '../../findings/suggest.js';
import { asList } from '../../library/scope.js';
import { isLost, namesWritten } from '../../library/written.js';
import { spanOfName } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';

export const rule: Rule = {
  name: 'reference/unknown-in-profile',
  severity: 'error',
  finds: 'A part that names fasteners, a cover or a circuit which is not declared.',
  why: 'The torque that hangs on that name is never printed.',
  mend: 'Correct the name, or declare it.',
  bad: procedure('parts:\n  bracket: { fasteners: braket-bolts } # <-\nsteps:\n  - remove: bracket\nclose-up:\n  - fit: bracket\n'),
  good: procedure(
    'parts:\n  bracket: { behind: [cover] }\nsteps:\n  - remove: cover\n  - remove: bracket\nclose-up:\n  - fit: bracket\n  - fit: cover\n',
  ),
  check(context, tell) {
    for (const document of [...context.vehicles, ...context.works]) {
      // Most procedures declare nothing of their own.
      if (document.kind !== 'vehicle' && !document.parts && !document.choices && !document.temporaries && !document.measurements) continue;
      const scopes = document.kind === 'vehicle' ? [] : context.scopesOf(document);
      const namesOf = (table: Table, own: object | undefined): Names =>
        new Names([...namesWritten(own), ...scopes.flatMap((scope) => [...scope[table].keys()])]);
      const look = (holder: object, key: string, names: readonly string[], known: Names, what: keyof typeof tableOf) => {
        if (isLost(document, tableOf[what])) return;
        for (const name of names) {
          if (known.has(name)) continue;
          const span = spanOfName(holder, key, name);
          tell({
            span,
            fix: renameFix(span, name, known),
            message: `There is no ${what} \`${name}\`.${didYouMean(name, known)} Correct the name, or declare it under \`${tableOf[what]}:\`.`,
          });
        }
      };
      if (document.parts) {
        const parts = namesOf('parts', document.parts);
        const groups = namesOf('fasteners', document.fasteners);
        for (const part of Object.values(document.parts)) {
          look(part, 'fasteners', asList(part.fasteners), groups, 'fastener group');
          for (const key of ['behind', 'held-by'] as const) look(part, key, part[key] ?? [], parts, 'part');
        }
      }
      if (document.kind === 'vehicle') {
        const fluids = new Names([...namesWritten(document.fluids), ...namesWritten(document.charges)]);
        // Air and fuel are circuits too, and nobody declares them as fluids; what is a slip for one that is declared, or that
        // another part has, is none.
        const circuits = Object.values(document.parts ?? {}).flatMap((part) => asList(part.circuit));
        const known = new Names([...fluids, ...circuits.filter((one, n) => circuits.indexOf(one) !== n)]);
        for (const part of Object.values(document.parts ?? {}))
          look(
            part,
            'circuit',
            asList(part.circuit).filter((one) => nearest(one, fluids) || isTypo(one, known)),
            known,
            'fluid',
          );
      }
      const measured = (name: string | undefined): readonly string[] =>
        name === undefined || context.isShared('measurements', name) ? [] : [name];
      const measurements = namesOf('measurements', document.measurements);
      for (const choice of Object.values(document.choices ?? {}))
        for (const key of ['from', 'stays'] as const) look(choice, key, measured(choice[key]), measurements, 'measurement');
      for (const { calculated: by } of Object.values(document.measurements ?? {}))
        if (by) for (const key of ['plus', 'minus'] as const) look(by, key, (by[key] ?? []).flatMap(measured), measurements, 'measurement');
      const charges = document.kind === 'vehicle' ? Object.values(document.charges ?? {}) : [];
      for (const charge of charges)
        for (const key of ['recovered', 'oil-recovered'] as const) look(charge, key, measured(charge[key]), measurements, 'measurement');
      const temporaries = Object.values(document.temporaries ?? {});
      for (const one of temporaries) look(one, 'while-fitted', asList(one['while-fitted']), namesOf('parts', document.parts), 'part');
    }
  },
};

/** Where what is called so is declared. */
const tableOf = { part: 'parts', 'fastener group': 'fasteners', fluid: 'fluids', measurement: 'measurements' } as const;

type Table = 'parts' | 'fasteners' | 'measurements';
