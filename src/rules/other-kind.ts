import { oneOf } from '../findings/suggest.js';
import { asList, isNamed, type NameKind, namesOf, type Scope } from '../library/scope.js';
import { verbOf, type VerbName } from '../ledger/verbs.js';

/** The kinds of names as they are spoken of. */
export const kindCalled: Readonly<Record<NameKind, string>> = {
  part: 'part',
  fastener: 'fastener group',
  temporary: 'temporary item',
  fluid: 'fluid',
  charge: 'charge',
  measurement: 'measurement',
  choice: 'choice',
};

const inOrder = Object.keys(kindCalled) as readonly NameKind[];

/**
 * What to write where a name stands for something, and for nothing that the verb takes: a fluid is drained and not removed,
 * a bolt comes off with what it holds.
 * @returns sentences; null where the name stands for nothing at all
 */
export function ofAnotherKind(scope: Scope, verb: VerbName, takes: readonly NameKind[], name: string): string | null {
  const kind = inOrder.find((one) => !takes.includes(one) && namesOf(scope, one).has(name));
  if (kind === undefined) return null;
  const fact = `\`${name}\` is a ${kindCalled[kind]}; \`${verb}\` takes a ${takes.map((one) => kindCalled[one]).join(' or ')}.`;
  const written = insteadOf(scope, verb, takes, kind, name);
  return written === null ? fact : `${fact} ${written}`;
}

function insteadOf(scope: Scope, verb: VerbName, takes: readonly NameKind[], kind: NameKind, name: string): string | null {
  const { opens } = verbOf(verb);
  const write = (...steps: readonly string[]) => (steps.length > 0 ? `Write ${oneOf(steps)}.` : null);
  const step = (opening: VerbName, closing: VerbName) => write(`${opens ? opening : closing}: ${name}`);
  if (takes.includes('fluid')) {
    const its = asList(scope.parts.get(name)?.circuit).filter((circuit) => isNamed(scope, takes, circuit));
    const fluids = its.length > 0 ? its : takes.flatMap((one) => [...namesOf(scope, one).keys()]);
    const itself = verb === 'fill' && kind === 'part' && scope.parts.get(name)?.role !== 'fill-point' ? [`lubricate: ${name}`] : [];
    return write(...fluids.map((fluid) => `${verb}: ${fluid}`), ...itself);
  }
  if (takes.includes('measurement')) return `What is measured of it is declared under \`measurements:\`, with a name of its own.`;
  if (takes.includes('temporary')) return kind === 'part' ? step('fit', 'remove') : null;
  if (!takes.includes('part')) return null;
  if (kind === 'fluid' || kind === 'charge') return takes.includes('fastener') ? null : step('drain', 'fill');
  if (kind === 'temporary') return takes.includes('fastener') ? null : step('clear', 'place');
  if (kind !== 'fastener') return null;
  if (verb === 'renew') return `New each time are those whose group says \`reuse: never\` and its \`item:\`.`;
  const held = [...scope.parts].flatMap(([part, { fasteners }]) => (asList(fasteners).includes(name) ? [part] : []));
  return write(...held.map((part) => `${verb}: ${part}`), `${opens ? 'loosen' : 'tighten'}: ${name}`);
}
