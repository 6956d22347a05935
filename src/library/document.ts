import { mayAllow } from '../findings/control.js';
import type { Finding } from '../findings/finding.js';
import { decode, decodeRight } from '../schema/decode.js';
import type {
  AnyDocument,
  JobDocument,
  PartsDocument,
  PreparationDocument,
  ProcedureDocument,
  ShopDocument,
  VehicleDocument,
} from '../schema/generated/types.js';
import { fileWith, setOrigin } from '../schema/origin.js';
import { type DocumentKind, documentKinds } from '../schema/lookup.js';
import { validateAsMeant } from '../schema/as-meant.js';
import { kindOfRight } from '../schema/validate.js';
import type { SourceFile } from '../source/source.js';
import { type Event, eventsOf } from '../syntax/events.js';
import { parse } from '../syntax/parse.js';
import { asMeant } from '../syntax/structure.js';
import { valueIn } from '../syntax/values.js';
import { type Card, cardOf } from './card.js';
import { nameMeant } from './root.js';

export type WorkDocument = ProcedureDocument | PreparationDocument;

/** What the text of a file says of the document that could not be made of it. */
export interface Meant {
  readonly id: string | null;
  /** Its `kind:`, or that of which it has the keys. */
  readonly kind: DocumentKind | null;
}

/** One file of the library, read as far as it could be. */
export interface LibraryFile {
  readonly file: SourceFile;
  /** Comes with the tool and not from the shop. */
  readonly shipped: boolean;
  /** Its text could be had; whether it made sense is another matter. */
  readonly readable: boolean;
  readonly document: AnyDocument | null;
  /** What others ask of the document; null where there is none. */
  readonly card: Card | null;
  /** What was found while it was read. */
  readonly findings: readonly Finding[];
  /** What it seems to be meant as where there is no document; null where there is one. */
  readonly meant: Meant | null;
  /** It may hold comments that allow a finding. */
  readonly allows: boolean;
}

/** A file that has been read. */
export class ReadFile implements LibraryFile {
  private madeCard: Card | null | undefined;
  private mayAllow: boolean | undefined;

  constructor(
    readonly file: SourceFile,
    readonly shipped: boolean,
    readonly findings: readonly Finding[],
    readonly document: AnyDocument | null = null,
    readonly readable = true,
  ) {}

  get card(): Card | null {
    this.madeCard ??= this.document && cardOf(this.document);
    return this.madeCard;
  }

  get meant(): Meant | null {
    // What is no document and has nothing wrong with it belongs to another tool.
    return this.document || !this.findings.some(({ severity }) => severity === 'error') ? null : meantBy(this.file.text);
  }

  get allows(): boolean {
    this.mayAllow ??= mayAllow(this.file);
    return this.mayAllow;
  }
}

function meantBy(text: string): Meant {
  const said = /^kind:\s*["']?([\w-]+)/m.exec(text)?.[1] ?? '';
  const isParts = /^(?:items|offers):/m.test(text);
  return {
    id: /^id:\s*["']?([\w-]+)/m.exec(text)?.[1] ?? null,
    kind: documentKinds.find((kind) => kind === said) ?? (isParts ? 'parts' : null),
  };
}

/** What is known of a file without opening it, as plain data. */
export interface FileFacts {
  readonly shipped: boolean;
  readonly card: Card | null;
  readonly meant: Meant | null;
  readonly allows: boolean;
}

/** Where the rest of what was known of files can be had. Of many files one. */
export interface Archive<F extends FileFacts> {
  /** The text of a file. */
  textOf(facts: F): string;
  /** What was found while a file was read. */
  findingsOf(facts: F): readonly Finding[];
}

/** A file that has been read before: what is known of it is at hand, and it is read again when somebody asks for more. */
export class KnownFile<F extends FileFacts = FileFacts> implements LibraryFile {
  readonly file: SourceFile;
  readonly readable = true;
  private readAgain: LibraryFile | undefined;
  private madeFindings: readonly Finding[] | undefined;

  constructor(
    path: string,
    private readonly facts: F,
    private readonly archive: Archive<F>,
  ) {
    this.file = new LateFile(path, facts, archive);
  }

  get shipped(): boolean {
    return this.facts.shipped;
  }

  get card(): Card | null {
    return this.facts.card;
  }

  get meant(): Meant | null {
    return this.facts.meant;
  }

  get allows(): boolean {
    return this.facts.allows;
  }

  get findings(): readonly Finding[] {
    this.madeFindings ??= this.archive.findingsOf(this.facts);
    return this.madeFindings;
  }

  get document(): AnyDocument | null {
    return this.card && this.again.document;
  }

  private get again(): LibraryFile {
    this.readAgain ??= readDocument(this.file, this.shipped);
    return this.readAgain;
  }
}

class LateFile<F extends FileFacts> implements SourceFile {
  private known: string | undefined;
  constructor(
    readonly path: string,
    private readonly facts: F,
    private readonly archive: Archive<F>,
  ) {}

  get text(): string {
    this.known ??= this.archive.textOf(this.facts);
    return this.known;
  }
}

/** file → syntax → schema → document. Never throws for what a user wrote. */
export function readDocument(file: SourceFile, shipped: boolean): LibraryFile {
  if (isSaidToBeNone(file.text)) return new ReadFile(file, shipped, []);
  const name = nameMeant(file.path);
  if (name !== null) return new ReadFile(file, shipped, [misnamed(file, name)]);
  const read = asWritten(file, shipped);
  const meant = errorsIn(read) > 0 ? asMeant(file) : null;
  if (!meant) return read;
  // If it makes sense with the signs that were meant, or less is wrong, these are what is wrong; the rest follows from it.
  const other = asWritten({ path: file.path, text: meant.text }, shipped);
  const isIt = (other.document !== null && read.document === null) || errorsIn(other) < errorsIn(read);
  return isIt ? new ReadFile(file, shipped, meant.findings) : read;
}

/** What is told of a file whose name hides it. */
function misnamed(file: SourceFile, name: string): Finding {
  const [was, is] = [file.path, name].map((path) => path.slice(path.lastIndexOf('/') + 1));
  return {
    rule: 'yaml/ending',
    severity: 'error',
    message: `This file is called ${was}, and so it is no document; where endings are hidden, nobody sees that. Call it ${is}.`,
    span: { file, start: 0, end: 0 },
  };
}

/** `# baywright: not a document`, above all that is no remark: a file of another tool, in whatever YAML that writes. */
function isSaidToBeNone(text: string): boolean {
  if (!text.includes('baywright: not a document')) return false;
  const above = /^(?:[ \t]*(?:#.*|%.*|---.*)?\r?\n)*[ \t]*(?:#.*)?/.exec(text)?.[0] ?? '';
  return /^[ \t]*#[ \t]*baywright: not a document\b/m.test(above);
}

const errorsIn = ({ findings }: LibraryFile): number => findings.filter(({ severity }) => severity === 'error').length;

function asWritten(file: SourceFile, shipped: boolean): LibraryFile {
  const events = eventsOf(file);
  const right = events.value && events.findings.length === 0 ? rightIn(file, events.value) : null;
  if (right) return new ReadFile(file, shipped, [], right);
  const syntax = parse(file, events);
  if (!syntax.value) return new ReadFile(file, shipped, syntax.findings);
  const checked = validateAsMeant(syntax.value);
  // Another tool may have a YAML of its own.
  const isOther = checked.findings.length > 0 && checked.findings.every(({ severity }) => severity === 'info');
  if (!checked.kind) return new ReadFile(file, shipped, isOther ? checked.findings : [...syntax.findings, ...checked.findings]);
  const decoded = decode(checked.root, checked.kind, checked.wrong);
  return new ReadFile(file, shipped, [...syntax.findings, ...checked.findings, ...decoded.findings], decoded.document);
}

/** The document of a file in which nothing is wrong and nothing unusual, as nearly always: it needs no nodes. */
function rightIn(file: SourceFile, events: readonly Event[]): AnyDocument | null {
  const value = valueIn(file, events, setOrigin);
  const kind = kindOfRight(value);
  return kind && decodeRight(value, kind);
}

export const isWork = (document: AnyDocument): document is WorkDocument => document.kind === 'procedure' || document.kind === 'preparation';

export const fileOf = (document: AnyDocument): SourceFile => fileWith(document);

export type { JobDocument, PartsDocument, PreparationDocument, ProcedureDocument, ShopDocument, VehicleDocument };
