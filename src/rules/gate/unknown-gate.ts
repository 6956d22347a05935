import { renameFix } from '../../findings/fixes.js';
import { didYouMeanOf, nearest } from '../../findings/suggest.js';
import { isVerb, verbNames, verbOf } from '../../ledger/verbs.js';
import { isNamed, mergeScopes, namesToAsk, type Scope } from '../../library/scope.js';
import { isDamaged, spanOf, spanOfName } from '../../schema/origin.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { slipsIn } from '../../library/slips.js';

const pinned = (gate: string, mark = '') =>
  procedure(`temporaries:
  wedge: { name: flywheel wedge, count: 1, due-before: [${gate}] }${mark}
steps:
  - place: wedge
close-up:
  - clear: wedge
`);

export const rule: Rule = {
  name: 'gate/unknown-gate',
  severity: 'error',
  finds:
    'A gate in `due-before:`, `may-stay:` or `needed-for:`, or a step in `notes:`, that none can be: a word that is no verb, or a name that nobody declares.',
  why: 'No step is ever that gate: the pin is still in when the engine is turned, and nothing is found.',
  mend: 'Write a verb of a step, and its object where it matters: `turn engine`, `fit cylinder-head`.',
  bad: pinned('tunr engine', ' # <-'),
  good: pinned('turn engine'),
  check(context, tell) {
    for (const vehicle of context.vehicles)
      for (const name of Object.keys(vehicle.notes ?? {})) {
        const wrong = wrongWith(name, [mergeScopes([], vehicle)]);
        if (!wrong || isDamaged(vehicle)) continue;
        const span = spanOf(vehicle.notes ?? vehicle, name, 'key');
        tell({
          span,
          fix: renameFix(span, name, wrong.meant === undefined ? [] : [wrong.meant]),
          message: `\`${name}\` is no step: ${wrong.why}`,
        });
      }
    for (const document of [...context.vehicles, ...context.works]) {
      if (!document.parts && !document.temporaries) continue;
      const scopes = document.kind === 'vehicle' ? [mergeScopes([], document)] : context.scopesOf(document);
      for (const holder of [...Object.values(document.parts ?? {}), ...Object.values(document.temporaries ?? {})])
        for (const key of ['due-before', 'may-stay', 'needed-for'] as const)
          for (const gate of gatesOf(holder, key)) {
            const wrong = wrongWith(gate, scopes);
            if (!wrong || isDamaged(document)) continue;
            const span = spanOfName(holder, key, gate);
            tell({
              span,
              fix: renameFix(span, gate, wrong.meant === undefined ? [] : [wrong.meant]),
              message: `\`${gate}\` is no ${key === 'needed-for' ? 'step' : 'gate'}: ${wrong.why}`,
            });
          }
    }
  },
};

/** Parts are needed for nothing: that is of temporary things. */
const gatesOf = (holder: Partial<Record<'due-before' | 'may-stay' | 'needed-for', readonly string[]>>, key: keyof typeof holder) =>
  holder[key] ?? [];

interface Wrong {
  readonly why: string;
  /** The gate that it probably is. */
  readonly meant: string | undefined;
}

/** Why no step is a gate of this name; null where one may be. */
function wrongWith(gate: string, scopes: readonly Scope[]): Wrong | null {
  const [verb = '', ...names] = gate.trim().split(/\s+/);
  const [object = ''] = names;
  if (!isVerb(verb)) {
    const near = nearest(verb, verbNames);
    const meant = near && [near, ...names].join(' ');
    return {
      why: `\`${verb}\` is not what a step does. ${meant ? `Did you mean \`${meant}\`?` : 'Write it as a step would: `turn engine`.'}`,
      meant,
    };
  }
  if (names.length > 1) return { why: 'write one verb and one name: `turn engine`; for several write several.', meant: undefined };
  if (object === '' || scopes.length === 0) return null;
  const kinds = verbOf(verb).objects;
  if (kinds === 'free') {
    const slips = scopes.map((scope) => slipsIn(scope).meantBy(object));
    const [slip] = slips;
    return slip !== undefined && !slips.includes(undefined)
      ? { why: `\`${object}\` is nothing that is known here. Did you mean \`${slip}\`?`, meant: `${verb} ${slip}` }
      : null;
  }
  if (scopes.some((scope) => isNamed(scope, kinds, object))) return null;
  const [scope] = scopes;
  const known = scope ? namesToAsk(scope, kinds) : [];
  const near = nearest(object, known);
  return { why: `there is no ${kinds.join(' or ')} \`${object}\`.${didYouMeanOf(object, known)}`, meant: near && `${verb} ${near}` };
}
