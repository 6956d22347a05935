import { type Checked, checkAgain } from './compile.js';
import type { LibraryFile } from './library/document.js';
import { type Library, loadLibrary } from './library/library.js';
import { Checker, type Patience } from './rules/checker.js';
import type { World } from './world/world.js';

/**
 * A library that is looked at again and again, as an editor or `check --watch` does: what did not change since the last
 * look is neither read nor checked anew.
 */
export class LiveLibrary {
  private known = new Map<string, LibraryFile>();
  private readonly checker = new Checker();

  constructor(
    private readonly world: World,
    readonly root: string,
    private readonly shippedFolder: string,
    private readonly ignore: readonly string[],
  ) {}

  /** The library as it is now, not checked. */
  read(): Library {
    const library = loadLibrary(this.world, this.root, this.shippedFolder, this.ignore, this.known);
    this.known = new Map(library.files.map((file) => [file.file.path, file]));
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
