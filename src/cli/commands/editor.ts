import { realWorld } from '../../world/real.js';
import { watchFolder } from '../../world/watch.js';
import { knownFiles } from '../known-files.js';
import { shippedFolder } from '../package-folder.js';

/** The language server, until the editor closes it. */
export async function editor(): Promise<void> {
  const { serveEditor } = await import('../../editor/server.js');
  await serveEditor(realWorld, shippedFolder, process.stdin, process.stdout, watchFolder, knownFiles);
}
