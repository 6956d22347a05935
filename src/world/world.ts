/** What the library reads files through. Paths are absolute, with forward slashes. */
export interface World {
  /**
   * All that has one of the endings below a folder, as absolute paths, sorted; folders whose name starts with a dot and
   * node_modules are passed over. Also what is no file, and folders that are not gone into (they cannot be opened, or
   * are links to such as hold some): reading them says so.
   */
  files(folder: string, endings: readonly string[]): string[];
  /** @param within a folder: a link that leads out of it is not followed */
  read(path: string, within: string): ReadResult;
  kindOf(path: string): 'file' | 'folder' | 'other' | 'nothing';
}

/** Size in bytes and time of the last change of any kind in ms, of a file. */
export interface Stamp {
  readonly size: number;
  readonly time: number;
}

export type ReadResult = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly why: string };

/** A failure that is told to the user as it stands: what could not be done, and what to do. Ends the run with status 2. */
export class CannotRun extends Error {
  override readonly name = 'CannotRun';
}

/** By its name: the commands are bundled apart from the prompt, and each bundle has a class of its own. */
export const isCannotRun = (error: unknown): error is CannotRun => error instanceof Error && error.name === 'CannotRun';
