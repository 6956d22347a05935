import { LiveLibrary } from '../live-library.js';
import type { Finding } from '../findings/finding.js';
import { realWorld } from '../world/real.js';
import { rememberingWorld } from '../world/remembering.js';
import { watchFolder } from '../world/watch.js';
import { shippedFolder } from './package-folder.js';
import { outOf } from './root.js';

/** A pause in which changes that belong together arrive: an editor writes, renames and deletes, ms. */
const pause = 10;

/**
 * Looks at a library now and after every change, until the user ends it.
 * @param show is given what was found each time
 */
export function watchLibrary(
  root: string,
  show: (found: { readonly files: readonly string[]; readonly findings: readonly Finding[] }) => void,
): Promise<void> {
  const world = rememberingWorld(realWorld);
  const out = outOf(root);
  const live = new LiveLibrary(world, root, shippedFolder, [out]);
  const look = () => {
    const { library, findings } = live.look();
    show({ files: library.files.filter((file) => !file.shipped).map((file) => file.file.path), findings });
  };
  return new Promise((done) => {
    let timer: NodeJS.Timeout | undefined;
    const end = watchFolder(root, (one) => {
      if (one.path.startsWith(`${out}/`)) return;
      world.changed(one.path);
      if (one.moved) world.moved();
      clearTimeout(timer);
      timer = setTimeout(look, pause);
    });
    // Watched first, so that no change falls between.
    look();
    process.once('SIGINT', () => {
      clearTimeout(timer);
      end();
      done();
    });
  });
}
