// Builds the tool: types and validators from schemas/, then TypeScript, then the files that travel with it.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { generate } from './generate.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const at = (...parts) => path.join(root, ...parts);

await generate(root);
fs.rmSync(at('dist'), { recursive: true, force: true });
execFileSync(process.execPath, [at('node_modules/typescript/bin/tsc'), '-p', at('tsconfig.json')], { stdio: 'inherit', cwd: root });
fs.mkdirSync(at('dist/schema/generated'), { recursive: true });
fs.copyFileSync(at('src/schema/generated/validators.cjs'), at('dist/schema/generated/validators.cjs'));

// What starts at the prompt is bundled: one file to read instead of three hundred. `check` of what
// has not changed needs the second file only; everything else is in the third. Large libraries that only they need stay packages.
const bundle = at('dist/bundle');
const kept = ['pdfkit', 'fontkit', 'uqr', 'yaml', 'vscode-languageserver', 'vscode-languageserver/node'];
/** Each dynamic import of main.ts goes to the one file of commands; the generated validators are read when first used. */
const apart = {
  name: 'apart',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\.?\/commands\.js$/ }, () => ({ path: './commands.cjs', external: true }));
    onResolve({ filter: /^\.\/commands\/check\.js$/ }, () => ({ path: './check.cjs', external: true }));
    onResolve({ filter: /validators\.cjs$/ }, () => ({ path: './validators.cjs', external: true }));
  },
};
const { metafile } = await build({
  metafile: true,
  entryPoints: { main: at('src/cli/main.ts'), check: at('src/cli/commands/check.ts'), commands: at('src/cli/commands.ts') },
  outdir: bundle,
  outExtension: { '.js': '.cjs' },
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  external: kept,
  plugins: [apart],
  define: { 'import.meta.url': 'importMetaUrl' },
  banner: { js: "const importMetaUrl = require('node:url').pathToFileURL(__filename).href;" },
  supported: { 'dynamic-import': false },
  minifyWhitespace: true,
  minifySyntax: true,
  legalComments: 'none',
  logLevel: 'warning',
});
const validators = await build({
  metafile: true,
  entryPoints: [at('src/schema/generated/validators.cjs')],
  outfile: path.join(bundle, 'validators.cjs'),
  bundle: true,
  minify: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
});

// The licences of the packages that the bundles carry.
const carried = new Set(
  [...Object.keys(metafile.inputs), ...Object.keys(validators.metafile.inputs)].flatMap(
    (input) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(input.replaceAll('\\', '/'))?.[1] ?? [],
  ),
);
const licences = [...carried].sort().map((name) => {
  const folder = at('node_modules', name);
  const { version, license } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const file = fs.readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
  if (!file) throw new Error(`${name} is bundled and has no licence file`);
  return `${name} ${version} (${license})\n\n${fs.readFileSync(path.join(folder, file), 'utf8').trim()}\n`;
});
fs.writeFileSync(path.join(bundle, 'LICENSES.txt'), licences.join(`\n${'-'.repeat(72)}\n\n`));

const fonts = at('node_modules/@expo-google-fonts/ibm-plex-sans');
fs.mkdirSync(at('dist/fonts'), { recursive: true });
for (const face of ['400Regular', '600SemiBold', '700Bold']) {
  fs.copyFileSync(path.join(fonts, face, `IBMPlexSans_${face}.ttf`), at('dist/fonts', `${face}.ttf`));
}
fs.copyFileSync(path.join(fonts, 'LICENSE_FONT'), at('dist/fonts/LICENSE'));
