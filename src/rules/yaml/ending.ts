import type { Rule } from '../rule.js';

const text = 'kind: parts\nid: more\nitems: {}\noffers: []\n';

export const rule: Rule = {
  name: 'yaml/ending',
  severity: 'error',
  finds: 'A file of YAML that an editor for plain text has called `.yaml.txt`.',
  why: 'It is not looked at, and where endings are hidden nobody sees why.',
  mend: 'Take `.txt` off its name.',
  bad: { 'parts/more.yaml.txt': `# <-\n${text}` },
  good: { 'parts/more.yaml': text },
};
