import { parse } from '../syntax/parse.js';
import { mayAllow } from '../findings/control.js';
import type { Finding } from '../findings/finding.js';
import { decode } from '../schema/decode.js';
import type {
  AnyDocument,
  JobDocument,
  PartsDocument,
  PreparationDocument,
  ProcedureDocument,
  ShopDocument,
  VehicleDocument,
} from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import { validate } from '../schema/validate.js';
import type { SourceFile } from '../source/source.js';
import type { SyntaxNode } from '../syntax/node.js';
import { type Card, cardOf } from './card.js';

export type WorkDocument = ProcedureDocument | PreparationDocument;

/** One file of the library, read as far as it could be. */
export interface LibraryFile {
  readonly file: SourceFile;
  /** Comes with the tool and not from the shop. */
  readonly shipped: boolean;
  /** Its text could be had; whether it made sense is another matter. */
  readonly readable: boolean;
  readonly root: SyntaxNode | null;
  readonly document: AnyDocument | null;
  /** What others ask of the document; null where there is none. */
  readonly card: Card | null;
  /** What was found while it was read. */
  readonly findings: readonly Finding[];
  /** The id that seems to be meant where there is no document. */
  readonly meantId: string | null;
  /** It may hold comments that allow a finding. */
  readonly allows: boolean;
}

/** A file that has been read. */
export class ReadFile implements LibraryFile {
  private madeCard: Card | null | undefined;

  constructor(
    readonly file: SourceFile,
    readonly shipped: boolean,
    readonly findings: readonly Finding[],
    readonly root: SyntaxNode | null = null,
    readonly document: AnyDocument | null = null,
    readonly readable = true,
  ) {}

  get card(): Card | null {
    this.madeCard ??= this.document && cardOf(this.document);
    return this.madeCard;
  }

  get meantId(): string | null {
    return this.document ? null : (/^id:\s*["']?([\w-]+)/m.exec(this.file.text)?.[1] ?? null);
  }

  get allows(): boolean {
    return mayAllow(this.file);
  }
}

/** file → syntax → schema → document. Never throws for what a user wrote. */
export function readDocument(file: SourceFile, shipped: boolean): LibraryFile {
  const syntax = parse(file);
  if (!syntax.value) return new ReadFile(file, shipped, syntax.findings);
  const checked = validate(syntax.value);
  if (!checked.kind) return new ReadFile(file, shipped, [...syntax.findings, ...checked.findings], syntax.value);
  const decoded = decode(syntax.value, checked.kind, checked.wrong);
  return new ReadFile(file, shipped, [...syntax.findings, ...checked.findings, ...decoded.findings], syntax.value, decoded.document);
}

export const isWork = (document: AnyDocument): document is WorkDocument => document.kind === 'procedure' || document.kind === 'preparation';

export const fileOf = (document: AnyDocument): SourceFile => spanOf(document).file;

export type { JobDocument, PartsDocument, PreparationDocument, ProcedureDocument, ShopDocument, VehicleDocument };
