import { parse } from '../syntax/parse.js';
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

export type WorkDocument = ProcedureDocument | PreparationDocument;

/** One file of the library, read as far as it could be. */
export interface LibraryFile {
  readonly file: SourceFile;
  readonly root: SyntaxNode | null;
  readonly document: AnyDocument | null;
  /** Comes with the tool and not from the shop. */
  readonly shipped: boolean;
  readonly findings: readonly Finding[];
  /** Its text could be had; whether it made sense is another matter. */
  readonly readable: boolean;
}

/** file → syntax → schema → document. Never throws for what a user wrote. */
export function readDocument(file: SourceFile, shipped: boolean): LibraryFile {
  const syntax = parse(file);
  if (!syntax.value) return { file, root: null, document: null, shipped, findings: syntax.findings, readable: true };
  const checked = validate(syntax.value);
  if (!checked.kind)
    return { file, root: syntax.value, document: null, shipped, findings: [...syntax.findings, ...checked.findings], readable: true };
  const decoded = decode(syntax.value, checked.kind, checked.wrong);
  return {
    file,
    root: syntax.value,
    document: decoded.document,
    shipped,
    findings: [...syntax.findings, ...checked.findings, ...decoded.findings],
    readable: true,
  };
}

export const isWork = (document: AnyDocument): document is WorkDocument => document.kind === 'procedure' || document.kind === 'preparation';

export const fileOf = (document: AnyDocument): SourceFile => spanOf(document).file;

export type { JobDocument, PartsDocument, PreparationDocument, ProcedureDocument, ShopDocument, VehicleDocument };
