import { oneOf, nearest } from '../../findings/suggest.js';
import { allRules } from '../../rules/index.js';
import type { Example, Rule } from '../../rules/rule.js';
import { CannotRun } from '../../world/world.js';

/** The text of one rule, or the list of all of them. */
export function explain(name: string | undefined, write: (text: string) => void): number {
  if (name === undefined) {
    const width = Math.max(...allRules.map((rule) => rule.name.length));
    write(`${allRules.map((rule) => `${rule.name.padEnd(width)}  ${rule.severity.padEnd(7)}  ${rule.finds}`).join('\n')}\n`);
    return 0;
  }
  const rule = allRules.find((one) => one.name === name);
  if (!rule) {
    const near = nearest(
      name,
      allRules.map((one) => one.name),
    );
    const family = allRules.filter((one) => one.name.startsWith(`${name.split('/')[0]}/`)).map((one) => one.name);
    throw new CannotRun(
      `There is no rule \`${name}\`.${near ? ` Did you mean \`${near}\`?` : ''} ${family.length > 0 ? `In its family: ${oneOf(family)}.` : '`baywright explain` lists them all.'}`,
    );
  }
  write(textOf(rule));
  return 0;
}

const textOf = (rule: Rule): string => `${rule.name} (${rule.severity})

Finds:    ${rule.finds}
Why:      ${rule.why}
To mend:  ${rule.mend}

Found at the marked line:

${shown(rule.bad)}
Good:

${shown(rule.good)}`;

function shown(example: Example): string {
  const files: [string | null, string][] = typeof example === 'string' ? [[null, example]] : Object.entries(example);
  return files
    .map(([path, text]) => {
      const lines = text.trimEnd().split('\n');
      const cut = lines.length > 30 ? [...lines.slice(0, 6), '…'] : lines;
      return `${path ? `    # ${path}\n` : ''}${cut.map((line) => `    ${line}`).join('\n')}\n`;
    })
    .join('\n');
}
