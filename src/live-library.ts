import { type Checked, checkAgain } from './compile.js';
import type { Finding } from './findings/finding.js';
import type { LibraryFile } from './library/document.js';
import { type Library, loadLibrary } from './library/library.js';
import { liesIn } from './library/root.js';
import { once } from './once.js';
import { Checker, type Earlier, type Patience, untilDone } from './rules/checker.js';
import type { Happened } from './world/watch.js';
import type { World } from './world/world.js';

/** What an earlier run knew of a library. */
export interface KnownLibrary {
  /** Files that have not changed since, by full path. */
  readonly unchanged: ReadonlyMap<string, LibraryFile>;
  /** What was found in all files that it had then. */
  readonly earlier: Earlier;
}

/** Gives what is called for each file that is looked at, and throws where there is no room for what is found in more of them. */
export type RoomForFound = (found: () => Iterable<readonly Finding[]>, files: () => number) => () => void;

/**
 * A library that is looked at again and again, as an editor or `check --watch` does: what did not change since the last
 * look is neither read nor checked anew. It must be told what happens to its files.
 */
export class LiveLibrary {
  private readonly lists = new Map<string, string[]>();
  /** Files as they were at the last look, by full path. */
  private readonly files: Map<string, LibraryFile>;
  /** Those of them to which something has happened since. */
  private readonly doubtful = new Set<string>();
  private readonly checker: Checker;

  /** To be called for each file of which something is kept: throws where there is no room for more. */
  readonly mustHaveRoom: () => void;

  /**
   * @param out the folder of paper, no part of the library
   * @param known what an earlier run knew of it
   * @param room what tells where what is found takes more than there is
   */
  constructor(
    private readonly world: World,
    readonly root: string,
    private readonly shippedFolder: string,
    private readonly out: string,
    { known, room }: { readonly known?: KnownLibrary | undefined; readonly room?: RoomForFound } = {},
  ) {
    this.files = new Map(known?.unchanged);
    this.checker = new Checker(known?.earlier);
    this.mustHaveRoom =
      room?.(
        () => this.checker.found,
        () => this.files.size,
      ) ?? (() => undefined);
  }

  /** A file has another content, or a file or folder has come or gone. */
  happened({ path, moved }: Happened): void {
    this.doubtful.add(path);
    if (!moved) return;
    this.lists.clear();
    for (const one of this.files.keys()) if (liesIn(one, path)) this.files.delete(one);
  }

  /** The library as it is now, not checked. */
  read(): Library {
    const files: World['files'] = (folder, endings) =>
      once(this.lists, `${folder} ${endings.join(' ')}`, () => this.world.files(folder, endings));
    const library = loadLibrary({ ...this.world, files }, this.root, this.shippedFolder, [this.out], {
      unchanged: (path) => (this.doubtful.size > 0 && this.doubtful.has(path) ? undefined : this.files.get(path)),
      before: (path) => this.files.get(path),
      keep: (path, file) => void this.files.set(path, file),
    });
    this.doubtful.clear();
    return library;
  }

  /**
   * What is found in it now, as far as patience reaches; without it, all.
   * @throws where there is no room for it
   */
  look({ first, enough }: Patience = untilDone): Checked & { readonly library: Library; readonly done: boolean } {
    const library = this.read();
    return { library, ...checkAgain(library, this.checker, { first, enough: this.whileRoom(enough) }) };
  }

  /**
   * Goes on where patience ended, until it is enough; whether the next look will find all.
   * @throws where there is no room for it
   */
  goOn(enough: () => boolean): boolean {
    return this.checker.goOn(this.whileRoom(enough));
  }

  private whileRoom(enough: () => boolean): () => boolean {
    return () => {
      this.mustHaveRoom();
      return enough();
    };
  }
}
