import type { AnyDocument } from '../schema/generated/types.js';
import type { LibraryFile } from './document.js';

/** The documents of one kind by id. One is read when it is asked for; how many there are and what they are called is known before. */
export class Documents<T extends AnyDocument> implements ReadonlyMap<string, T> {
  constructor(
    private readonly kind: T['kind'],
    private readonly files: ReadonlyMap<string, LibraryFile>,
  ) {}

  get size(): number {
    return this.files.size;
  }

  has(id: string): boolean {
    return this.files.has(id);
  }

  keys(): MapIterator<string> {
    return this.files.keys();
  }

  get(id: string): T | undefined {
    const document = this.files.get(id)?.document;
    return document && this.isOne(document) ? document : undefined;
  }

  *entries(): MapIterator<[string, T]> {
    for (const id of this.keys()) {
      const document = this.get(id);
      if (document) yield [id, document];
    }
  }

  *values(): MapIterator<T> {
    for (const [, document] of this.entries()) yield document;
  }

  [Symbol.iterator](): MapIterator<[string, T]> {
    return this.entries();
  }

  forEach(visit: (document: T, id: string, all: ReadonlyMap<string, T>) => void): void {
    for (const [id, document] of this.entries()) visit(document, id, this);
  }

  private isOne(document: AnyDocument): document is T {
    return document.kind === this.kind;
  }
}
