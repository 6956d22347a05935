// Builds the tool: types and validators from schemas/, then TypeScript, then the files that travel with it.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { generate } from './generate.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const at = (...parts) => path.join(root, ...parts);

await generate(root);
fs.rmSync(at('dist'), { recursive: true, force: true });
execFileSync(process.execPath, [at('node_modules/typescript/bin/tsc'), '-p', at('tsconfig.json')], { stdio: 'inherit', cwd: root });
fs.mkdirSync(at('dist/schema/generated'), { recursive: true });
fs.copyFileSync(at('src/schema/generated/validators.cjs'), at('dist/schema/generated/validators.cjs'));

const fonts = at('node_modules/@expo-google-fonts/ibm-plex-sans');
fs.mkdirSync(at('dist/fonts'), { recursive: true });
for (const face of ['400Regular', '600SemiBold', '700Bold']) {
  fs.copyFileSync(path.join(fonts, face, `IBMPlexSans_${face}.ttf`), at('dist/fonts', `${face}.ttf`));
}
fs.copyFileSync(path.join(fonts, 'LICENSE_FONT'), at('dist/fonts/LICENSE'));
