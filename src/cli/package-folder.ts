import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { forward } from '../world/paths.js';

/** The folder of the installed package: schemas, shipped procedures and fonts lie in it. */
export const packageFolder = forward(path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..'));
export const shippedFolder = `${packageFolder}/procedures`;

export function packageVersion(): string {
  const found: unknown = JSON.parse(readFileSync(`${packageFolder}/package.json`, 'utf8'));
  return typeof found === 'object' && found !== null && 'version' in found ? String(found.version) : 'unknown';
}
