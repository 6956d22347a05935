import { distance } from 'fastest-levenshtein';

/** The name in `known` that is nearest to what was written, if it is near enough to be a slip. */
export function nearest(written: string, known: Iterable<string>): string | undefined {
  if (written.length > 80) return undefined;
  const wanted = written.toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const name of known) {
    const candidate = name.toLowerCase();
    const apart = candidate === wanted ? 0 : isSwapped(wanted, candidate) ? 1 : distance(wanted, candidate);
    if (apart < bestDistance) {
      best = name;
      bestDistance = apart;
    }
  }
  return best;
}

/** Two neighbours in the wrong order are one slip. */
function isSwapped(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let at = 0;
  while (at < a.length && a[at] === b[at]) at++;
  return a[at] === b[at + 1] && a[at + 1] === b[at] && a.slice(at + 2) === b.slice(at + 2);
}

/** “ Did you mean `x`?” or nothing. */
export const didYouMean = (written: string, known: Iterable<string>): string => {
  const found = nearest(written, known);
  return found === undefined ? '' : ` Did you mean \`${found}\`?`;
};

/** `a`, `b` or `c`; cut after twelve. */
export function oneOf(names: Iterable<string>): string {
  const all = [...names].map((name) => `\`${name}\``);
  if (all.length === 0) return 'nothing';
  if (all.length > 12) return `${all.slice(0, 12).join(', ')} … (${all.length})`;
  return all.length === 1 ? `${all[0]}` : `${all.slice(0, -1).join(', ')} or ${all.at(-1)}`;
}
