import type { Finding, Staged } from '../findings/finding.js';
import type { SourceFile, Span } from '../source/source.js';
import { explain, inWords } from './explain.js';
import { limits } from './limits.js';
import { unseenIn } from './unseen.js';

/**
 * The reader of YAML. Its CommonJS build is three times as fast as the one that `import` takes, so that it is required.
 */
import yaml = require('js-yaml');

export { yaml };
export type Event = ReturnType<typeof yaml.parseEvents>[number];
export type ScalarEvent = Extract<Event, { valueStart: number }>;

/** The events of the one YAML 1.2 document in a file: null where it cannot be read, or is empty. */
export function eventsOf(file: SourceFile): Staged<readonly Event[] | null> {
  const whole: Span = { file, start: 0, end: Math.min(file.text.length, firstLineEnd(file.text)) };
  const refuse = (rule: string, message: string, span = whole): Staged<null> => ({
    value: null,
    findings: [{ rule, severity: 'error', message, span }],
  });

  if (file.text.length > limits.bytes)
    return refuse(
      'yaml/too-large',
      `This file is larger than ${limits.bytes / 1_000_000} MB; a document of this library is never so large. Is it the right file?`,
    );
  const lost = file.text.indexOf('\ufffd');
  if (lost >= 0)
    return refuse('yaml/unreadable', 'A character here was lost: this file is not UTF-8 text. Save it as UTF-8.', {
      file,
      start: lost,
      end: lost + 1,
    });
  const unseen = unseenIn(file);
  if (unseen) return { value: null, findings: [unseen] };
  let events: Event[];
  try {
    events = yaml.parseEvents(file.text, { maxDepth: 2 * limits.depth });
  } catch (error) {
    if (!(error instanceof yaml.YAMLException) || bracketDepth(file.text) > limits.depth)
      return refuse('yaml/too-deep', `Brackets are nested more than ${limits.depth} deep here. No document of this library is.`);
    const at = error.mark?.position ?? 0;
    return { value: null, findings: explain(file, at) ?? [inWords(file, '', error.reason, [at, at + 1])] };
  }
  const documents = events.filter((event) => event.type === yaml.EVENT_ID.DOCUMENT);
  if (documents.length > 1) {
    const second = secondDocument(file);
    return { value: null, findings: explain(file, second[0]) ?? [inWords(file, 'MULTIPLE_DOCS', '', second)] };
  }
  const findings: Finding[] = [];
  if (/^%YAML +(?!1\.2\s)/m.test(file.text)) {
    findings.push({
      rule: 'yaml/syntax',
      severity: 'error',
      message: 'This file asks for an older YAML. Delete the %YAML line; YAML 1.2 is used here.',
      span: whole,
    });
  }
  if (isEmpty(events)) {
    findings.push({
      rule: 'yaml/empty',
      severity: 'error',
      message: 'This file is empty. Start it with `kind:` and `id:`, or make it with `baywright new`.',
      span: whole,
    });
    return { value: null, findings };
  }
  return { value: events, findings };
}

function secondDocument({ text }: SourceFile): [number, number] {
  const at = text.indexOf('\n---', text.search(/[^\s#%-]/)) + 1;
  return [at, at + 3];
}

/** No document at all, or one that holds nothing. */
function isEmpty(events: readonly Event[]): boolean {
  const first = events[1];
  return first === undefined || first.type === yaml.EVENT_ID.POP || (first.type === yaml.EVENT_ID.SCALAR && first.valueStart < 0);
}

const firstLineEnd = (text: string): number => {
  const end = text.indexOf('\n');
  return end < 0 ? Math.min(text.length, 80) : end;
};

function bracketDepth(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 91 || c === 123) deepest = Math.max(deepest, ++depth);
    else if (c === 93 || c === 125) depth--;
  }
  return deepest;
}
