// Findings in their order, each once: held against the plain way, which makes a name of each.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Finding, tidy } from '../src/findings/finding.js';

const rank = { error: 0, warning: 1, info: 2 };

function plainly(findings: readonly Finding[]): Finding[] {
  const seen = new Map<string, { finding: Finding; from: Set<string> }>();
  for (const finding of findings) {
    const key = JSON.stringify([finding.rule, finding.span.file.path, finding.span.start, finding.span.end, finding.about ?? '']);
    const one = seen.get(key) ?? { finding, from: new Set(finding.from) };
    seen.set(key, one);
    for (const path of finding.from ?? []) one.from.add(path);
  }
  const kept = Array.from(seen.values(), ({ finding, from }) => (from.size > 0 ? { ...finding, from: [...from] } : finding));
  const order = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return kept.sort(
    (a, b) =>
      order(a.span.file.path, b.span.file.path) ||
      a.span.start - b.span.start ||
      rank[a.severity] - rank[b.severity] ||
      order(a.rule, b.rule),
  );
}

const files = ['a.yaml', 'b/a.yaml', 'b.yaml', 'ä.yaml', 'B.yaml'].map((path) => ({ path, text: '' }));
const few = <T>(...values: T[]) => fc.constantFrom(...values);
const finding = fc.record(
  {
    rule: few('x/a', 'x/b', 'y/a'),
    severity: few('error' as const, 'warning' as const, 'info' as const),
    message: few('one', 'two', 'three'),
    span: fc.record({ file: few(...files), start: fc.nat(6), end: few(6, 7) }),
    about: few('clip', 'bolt', ''),
    from: fc.uniqueArray(few('j.yaml', 'k.yaml', 'l.yaml'), { minLength: 1 }),
  },
  { requiredKeys: ['rule', 'severity', 'message', 'span'] },
);

it('puts findings in order and tells the same once, as it is done plainly, and leaves what is tidy as it is', () => {
  fc.assert(
    fc.property(fc.array(finding, { maxLength: 40 }), (findings) => {
      const found = tidy(findings);
      expect(found).toEqual(plainly(findings));
      expect(tidy(found)).toEqual(found);
    }),
    { numRuns: 2000 },
  );
});
