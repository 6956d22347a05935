import { isAlias, isMap, isScalar, isSeq, type Node, parseDocument } from 'yaml';
import type { Finding, Staged } from '../findings/finding.js';
import type { SourceFile, Span } from '../source/source.js';
import type { MapEntry, SyntaxNode } from './node.js';

/** Input is hostile until checked: a file beyond these limits is refused, with a finding. */
export const limits = { bytes: 2_000_000, depth: 40, nodes: 200_000, aliases: 100 } as const;

/**
 * Reads one YAML 1.2 document into plain data with positions.
 * Syntax errors become findings of the `yaml` family; the value is null where the file cannot be understood at all.
 */
export function parse(file: SourceFile): Staged<SyntaxNode | null> {
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
  const control = controlCharacter.exec(file.text);
  if (control)
    return refuse(
      'yaml/control-character',
      `There is a control character (code ${control[0].charCodeAt(0)}) here that no editor shows. Delete it.`,
      { file, start: control.index, end: control.index + 1 },
    );
  if (bracketDepth(file.text) > limits.depth)
    return refuse('yaml/too-deep', `Brackets are nested more than ${limits.depth} deep here. No document of this library is.`);

  let document: ReturnType<typeof parseDocument>;
  try {
    document = parseDocument(file.text, {
      version: '1.2',
      prettyErrors: false,
      strict: true,
      logLevel: 'silent',
      customTags: [],
      merge: false,
    });
  } catch {
    return refuse('yaml/too-deep', 'This file is nested too deeply to be read.');
  }
  const findings: Finding[] = [];
  const broken = document.errors.filter((error) => error.code !== 'DUPLICATE_KEY');
  for (const error of [...document.errors, ...document.warnings]) {
    if (findings.length > 0 && error.code !== 'DUPLICATE_KEY' && findings.some((f) => f.rule !== 'yaml/duplicate-key')) continue;
    findings.push(explain(file, error.code, error.message, error.pos));
  }
  if (document.directives?.yaml.explicit && document.directives.yaml.version !== '1.2') {
    findings.push({
      rule: 'yaml/syntax',
      severity: 'error',
      message: 'This file asks for an older YAML. Delete the %YAML line; YAML 1.2 is used here.',
      span: whole,
    });
  }
  if (broken.length > 0) return { value: null, findings };
  if (document.contents === null) {
    findings.push({
      rule: 'yaml/empty',
      severity: 'error',
      message: 'This file is empty. Start it with `kind:` and `id:`, or make it with `baywright new`.',
      span: whole,
    });
    return { value: null, findings };
  }
  const reader = new Reader(file, findings, (alias) => alias.resolve(document));
  const value = reader.read(document.contents as Node, 0, false);
  return { value: reader.refused ? null : value, findings };
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const controlCharacter = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\u0080-\u0084\u0086-\u009f\ufffe\uffff]/;

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

type AliasNode = Extract<Node, { source: string; resolve: unknown }>;

class Reader {
  refused = false;
  private nodes = 0;
  private aliases = 0;

  constructor(
    private readonly file: SourceFile,
    private readonly findings: Finding[],
    private readonly resolve: (alias: AliasNode) => Node | undefined,
  ) {}

  read(node: Node | null, depth: number, aliased: boolean, holder?: Span): SyntaxNode {
    const span = this.span(node) ?? holder ?? { file: this.file, start: 0, end: 0 };
    const nothing: SyntaxNode = { kind: 'scalar', value: null, source: '', quoted: false, span, aliased };
    if (this.refused) return nothing;
    if (++this.nodes > limits.nodes || depth > limits.depth) {
      this.refuse(
        span,
        depth > limits.depth
          ? `This is nested more than ${limits.depth} deep. No document of this library is.`
          : 'This file unfolds to more values than any document of this library has.',
      );
      return nothing;
    }
    if (node === null) return nothing;
    if (isAlias(node)) {
      if (++this.aliases > limits.aliases) {
        this.refuse(span, `More than ${limits.aliases} aliases (\`*name\`) in one file. Write the values out.`);
        return nothing;
      }
      const target = this.resolve(node as AliasNode);
      return target ? this.read(target, depth + 1, true) : nothing;
    }
    if (isSeq(node))
      return { kind: 'list', items: node.items.map((item) => this.read(item as Node | null, depth + 1, aliased, span)), span, aliased };
    if (isMap(node)) {
      const entries: MapEntry[] = [];
      for (const pair of node.items) {
        const key = pair.key as Node | null;
        const keySpan = this.span(key) ?? span;
        const text = isScalar(key) ? (typeof key.value === 'string' ? key.value : (key.source ?? String(key.value))) : '?';
        if (entries.some((entry) => entry.key === text)) continue;
        entries.push({ key: text, keySpan, value: this.read(pair.value as Node | null, depth + 1, aliased, keySpan) });
      }
      return { kind: 'map', entries, span, aliased };
    }
    if (isScalar(node)) {
      const value = node.value;
      const source = node.source ?? '';
      const quoted =
        node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE' || node.type === 'BLOCK_FOLDED' || node.type === 'BLOCK_LITERAL';
      if (typeof value === 'string' || typeof value === 'boolean' || value === null)
        return { kind: 'scalar', value, source, quoted, span, aliased };
      if (typeof value === 'number' || typeof value === 'bigint')
        return { kind: 'scalar', value: Number(value), source, quoted, span, aliased };
    }
    return nothing;
  }

  private refuse(span: Span, message: string): void {
    this.refused = true;
    this.findings.push({ rule: 'yaml/too-deep', severity: 'error', message, span });
  }

  private span(node: Node | null): Span | undefined {
    const range = node?.range;
    return range ? { file: this.file, start: range[0], end: Math.max(range[1], range[0]) } : undefined;
  }
}

/** The parser's codes in words that say what to do. */
const words: Readonly<Record<string, [rule: string, message: string]>> = {
  DUPLICATE_KEY: ['yaml/duplicate-key', 'This key stands here a second time, and only one of the two can be meant. Delete one.'],
  TAB_AS_INDENT: ['yaml/tab', 'There is a tab in the indentation. Use spaces.'],
  MULTIPLE_DOCS: ['yaml/syntax', 'There is a second document (`---`) in this file. Put each document into a file of its own.'],
  BAD_INDENT: ['yaml/syntax', 'The indentation does not fit what stands above. Lines that belong together start in the same column.'],
  MISSING_CHAR: ['yaml/syntax', 'A sign is missing here: a closing quote or bracket, or the colon after a key.'],
  BLOCK_AS_IMPLICIT_KEY: [
    'yaml/syntax',
    'Two keys stand on one line. Put the second on a line of its own, or quote the text if it contains a colon.',
  ],
  MULTILINE_IMPLICIT_KEY: ['yaml/syntax', 'A key runs over more than one line. Is a colon missing at the end of the line?'],
  BAD_ALIAS: ['yaml/syntax', 'This alias (`*name`) has no anchor (`&name`) above it.'],
  TAG_RESOLVE_FAILED: ['yaml/tag', 'This tag (`!name`) means nothing here. Delete it and write the plain value.'],
  BAD_SCALAR_START: ['yaml/syntax', 'A text cannot start with this sign. Put the text in quotes.'],
};

function explain(file: SourceFile, code: string, message: string, pos: [number, number]): Finding {
  const [rule, text] = words[code] ?? ['yaml/syntax', `This cannot be read as YAML: ${message.replace(/\s+/g, ' ')}`];
  const start = Math.min(pos[0], Math.max(0, file.text.length - 1));
  const lineEnd = file.text.indexOf('\n', start);
  const end = Math.min(Math.max(pos[1], start + 1), lineEnd > start ? lineEnd : file.text.length);
  return { rule, severity: 'error', message: text, span: { file, start, end: Math.max(end, start) } };
}
