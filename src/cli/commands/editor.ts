import { realWorld } from '../../world/real.js';
import { watchFolder } from '../../world/watch.js';
import { knownLive } from '../known-files.js';
import { shippedFolder } from '../package-folder.js';
import { readWhileRoom, roomForFound } from '../room.js';

/** The language server, until the editor closes it or goes away; nobody waits then for what is still under way. */
export async function editor(): Promise<never> {
  const { serveEditor } = await import('../../editor/server.js');
  const world = { ...realWorld, read: readWhileRoom({ again: true }) };
  await serveEditor(world, shippedFolder, process.stdin, process.stdout, { watch: watchFolder, known: knownLive, room: roomForFound });
  process.exit(0);
}
