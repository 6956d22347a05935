import { type Checked, checkAgain } from './compile.js';
import type { LibraryFile } from './library/document.js';
import { type Library, loadLibrary } from './library/library.js';
import { liesIn } from './library/root.js';
import { once } from './once.js';
import { Checker, type Earlier, type Patience } from './rules/checker.js';
import type { Happened } from './world/watch.js';
import type { World } from './world/world.js';

/** What an earlier run knew of a library. */
export interface KnownLibrary {
  /** Files that have not changed since, by full path. */
  readonly unchanged: ReadonlyMap<string, LibraryFile>;
  /** What was found in all files that it had then. */
  readonly earlier: Earlier;
}

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

  /**
   * @param out the folder of paper, no part of the library
   * @param known what an earlier run knew of it
   */
  constructor(
    private readonly world: World,
    readonly root: string,
    private readonly shippedFolder: string,
    private readonly out: string,
    known?: KnownLibrary,
  ) {
    this.files = new Map(known?.unchanged);
    this.checker = new Checker(known?.earlier);
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

  /** What is found in it now, as far as patience reaches; without it, all. */
  look(patience?: Patience): Checked & { readonly library: Library; readonly done: boolean } {
    const library = this.read();
    return { library, ...checkAgain(library, this.checker, patience) };
  }

  /** Goes on where patience ended, until it is enough; whether the next look will find all. */
  goOn(enough: () => boolean): boolean {
    return this.checker.goOn(enough);
  }
}
