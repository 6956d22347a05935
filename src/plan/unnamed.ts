import { mayAllow } from '../findings/control.js';
import type { Verb } from '../ledger/verbs.js';
import type { WorkDocument } from '../library/document.js';
import { isNamed, isNamedAtAll, mayDeclare, type NameKind, namesToAsk, type Scope } from '../library/scope.js';
import { slipAmong, slipsIn } from '../library/slips.js';
import { spanOf } from '../schema/origin.js';
import type { Participant, Unnamed } from './plan.js';

/** Of most steps: each name stands for something. */
const allNamed: readonly Unnamed[] = [];

/**
 * What of the names of a step stands for nothing.
 * @param given parameters filled in
 * @param written as the document has them: what another gives as a parameter is told there, and perhaps allowed there
 */
export function unnamedIn(
  { document, scope }: Pick<Participant, 'document' | 'scope'>,
  { objects: kinds, whole }: Verb,
  given: readonly string[],
  written: readonly string[],
): readonly Unnamed[] {
  // Without a vehicle nobody knows what it has.
  if (!scope.vehicle) return allNamed;
  let found: Unnamed[] | undefined;
  for (const name of given) {
    let meant: string | undefined;
    if (kinds === 'free') {
      meant = slipsIn(scope).meantBy(name);
      if (meant === undefined) continue;
    } else {
      if (isNamed(scope, kinds, name) || name === whole) continue;
      if (written.includes(name)) meant = meantBy(name, document, scope, kinds);
    }
    found ??= [];
    found.push({ written: name, meant });
  }
  return found ?? allNamed;
}

/** Where somebody allowed something, that may be this name: then it is what it says. */
const meantBy = (name: string, document: WorkDocument, scope: Scope, kinds: readonly NameKind[]): string | undefined =>
  mayAllow(spanOf(document).file) ||
  isNamedAtAll(scope, name) ||
  [scope.vehicle ?? {}, document].some((one) => mayDeclare(one, kinds, name))
    ? undefined
    : slipAmong(name, namesToAsk(scope, kinds));

/** Names as they are meant, each once. */
export function asMeant(given: readonly string[], unnamed: readonly Unnamed[]): readonly string[] {
  if (unnamed.length === 0) return given;
  const meant = new Map(unnamed.map((one) => [one.written, one.meant]));
  return [...new Set(given.map((name) => meant.get(name) ?? name))];
}
