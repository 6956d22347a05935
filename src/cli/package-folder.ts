import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { forward } from '../world/paths.js';

/** The folder of the installed package: schemas, shipped procedures and fonts lie in it. */
export const packageFolder = forward(path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..'));
export const shippedFolder = `${packageFolder}/procedures`;
