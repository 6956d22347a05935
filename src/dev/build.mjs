// Builds the tool: types and validators from schemas/, then TypeScript, then the files that travel with it.
import { execFileSync } from 'node:child_process';
import crypto from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build, transform } from 'esbuild';
import ts from 'typescript';
import { documentKinds, generate } from './generate.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const at = (...parts) => path.join(root, ...parts);

await generate(root);
fs.rmSync(at('dist'), { recursive: true, force: true });
execFileSync(process.execPath, [at('node_modules/typescript/bin/tsc'), '-p', at('tsconfig.json')], { stdio: 'inherit', cwd: root });
fs.mkdirSync(at('dist/schema/generated'), { recursive: true });
for (const file of ['right.cjs', 'validators.cjs']) fs.copyFileSync(at('src/schema/generated', file), at('dist/schema/generated', file));

// What starts at the prompt is bundled: a few files to read instead of three hundred. The first is a module; it loads the
// others, each when it is needed and each one function (src/cli/compiled.ts). Large libraries that only some commands need
// stay packages.
const bundle = at('dist/bundle');
const kept = ['yaml', 'vscode-languageserver', 'vscode-languageserver/node'];
const loaded = {
  main: at('src/cli/main.ts'),
  check: at('src/cli/commands/check.ts'),
  fresh: at('src/cli/fresh.ts'),
  commands: at('src/cli/commands.ts'),
  paper: at('src/cli/paper.ts'),
  validators: at('src/schema/generated/validators.cjs'),
  schemas: at('src/schema/generated/schemas.ts'),
  fontkit: at('node_modules/fontkit/dist/main.cjs'),
};
/** What has a bundle of its own and is loaded when something of it is first asked for: its bundle, and what is asked. */
const late = { fontkit: ['create'], validators: documentKinds, schemas: ['definitions'], words: ['allRules'] };
const lateBundle = (asked, importer) =>
  /\/rules\/index\.js$/.test(asked) ? (/(explain|sarif)\.ts$/.test(importer) ? 'words' : null) : path.parse(asked).name;
/** A dynamic import of what has a bundle of its own loads that. */
const apart = {
  name: 'apart',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /\/(check|fresh|commands|paper)\.js$/ }, ({ kind, path: asked }) =>
      kind === 'dynamic-import' ? { path: path.basename(asked, '.js'), namespace: 'apart' } : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'apart' }, ({ path: name }) => ({ contents: `module.exports = bundled(${JSON.stringify(name)});` }));
  },
};
/** The less there is to read, the sooner it starts. */
const lean = {
  name: 'lean',
  setup({ onResolve, onLoad }) {
    const short = { minify: true, treeShaking: true, format: 'cjs', platform: 'node', target: 'node20' };
    onLoad({ filter: /generated[\\/]\w+\.cjs$/ }, async ({ path: file }) => ({
      contents: (await transform(fs.readFileSync(file, 'utf8'), short)).code,
    }));
    // The sum over an attached file, by Node instead of by pdfkit's own script; where Node may not (FIPS), that stays.
    onLoad({ filter: /[\\/]pdfkit\.js$/ }, ({ path: file }) => {
      const text = fs.readFileSync(file, 'utf8');
      const own = 'return md5.create().update(data).digest();';
      if (!text.includes(own)) throw new Error('pdfkit computes its sums otherwise now');
      return {
        contents: text.replace(own, `try { return require('node:crypto').createHash('md5').update(data).digest(); } catch { ${own} }`),
      };
    });
    // chalk asks at once whether this is a terminal, and Node loads its network for the answer: only where it may be one.
    onResolve({ filter: /^node:tty$/ }, ({ importer }) => (importer.includes('chalk') ? { path: 'tty', namespace: 'perhaps' } : undefined));
    onLoad({ filter: /.*/, namespace: 'perhaps' }, () => ({
      contents: `const fs = require('node:fs');
const mayBe = (number) => {
  if (process.platform === 'win32') return true;
  try { return fs.fstatSync(number).isCharacterDevice(); } catch { return false; }
};
module.exports = { isatty: (number) => mayBe(number) && require('node:tty').isatty(number) };`,
    }));
    // A module of Node as it is: what stands in for it to allow named imports has a copy of all its names.
    onResolve({ filter: /^node:/ }, ({ kind, path: name }) =>
      kind === 'import-statement' ? { path: name, namespace: 'node' } : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'node' }, ({ path: name }) => ({ contents: `export default require(${JSON.stringify(name)});` }));
    // What a package asks for and is never used here: programs of their own as commands (commander), breaking of lines, pictures
    // and encryption (pdfkit), fonts of the web (fontkit).
    onResolve({ filter: /^(node:child_process|linebreak|png-js|@noble\/ciphers\/aes|brotli\/decompress\.js)$/ }, ({ path: name }) => ({
      path: name,
      namespace: 'none',
    }));
    onLoad({ filter: /.*/, namespace: 'none' }, () => ({ contents: 'module.exports = {};' }));
    // pdfkit is given fonts that are open; the tool itself opens one only where a letter is not common. Reasons and schemas in
    // words are wanted only where something is wrong, the words of rules where they are explained.
    onResolve({ filter: /^fontkit$|\/(validators\.cjs|schemas\.js|rules\/index\.js)$/ }, ({ kind, path: asked, importer }) => {
      if (kind === 'entry-point') return undefined;
      if (importer.includes('pdfkit')) return { path: asked, namespace: 'none' };
      const name = lateBundle(asked, importer);
      return name === null ? undefined : { path: name, namespace: 'late' };
    });
    onLoad({ filter: /.*/, namespace: 'late' }, ({ path: name }) => ({
      contents: [
        'let all;',
        ...late[name].map(
          (one) => `Object.defineProperty(exports, '${one}', { get: () => (all ??= bundled('${name}')).${one}, enumerable: true });`,
        ),
      ].join('\n'),
    }));
    // Properties of all characters, which fontkit unpacks when it is loaded: only when the first is asked for.
    onResolve({ filter: /^unicode-trie$/ }, ({ pluginData }) =>
      pluginData === 'packed' ? undefined : { path: 'unicode-trie', namespace: 'unpacked-late' },
    );
    onLoad({ filter: /.*/, namespace: 'unpacked-late' }, ({ path: name }) => ({
      contents: `module.exports = class {
  constructor(data) { this.packed = data; }
  get(code) { return (this.trie ??= new (require(${JSON.stringify(name)}))(this.packed)).get(code); }
};`,
      resolveDir: root,
      pluginData: 'packed',
    }));
  },
};
/** Rules without some of what they say. */
const rulesWithout = (...keys) => ({
  name: 'rules',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]src[\\/]rules[\\/][\w-]+[\\/][\w-]+\.ts$/ }, ({ path: file }) => {
      const text = fs.readFileSync(file, 'utf8');
      const { statements } = ts.createSourceFile(file, text, ts.ScriptTarget.ES2022, true);
      const declared = statements.filter(ts.isVariableStatement).flatMap((one) => [...one.declarationList.declarations]);
      const { properties } = declared.find((one) => one.name.getText() === 'rule').initializer;
      const left = properties.filter((one) => !keys.includes(one.name.getText())).map((one) => one.getText());
      return { contents: `${text.slice(0, properties.pos)}${left.join(',\n')}${text.slice(properties.end)}`, loader: 'ts' };
    });
  },
});
const options = {
  metafile: true,
  outdir: bundle,
  outExtension: { '.js': '.cjs' },
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  external: kept,
  // As pdfkit itself asks for it: one copy.
  alias: { pdfkit: at('node_modules/pdfkit/js/pdfkit.js') },
  plugins: [apart, lean, rulesWithout('finds', 'why', 'mend', 'bad', 'good')],
  define: { 'import.meta.dirname': '__dirname', 'import.meta.filename': '__filename' },
  supported: { 'dynamic-import': false },
  minifyWhitespace: true,
  minifySyntax: true,
  minifyIdentifiers: true,
  legalComments: 'none',
  logLevel: 'warning',
};
const asFunction = {
  banner: { js: '(function (exports, require, module, __filename, __dirname, bundled) {' },
  footer: { js: '})' },
};
await build({ ...options, entryPoints: { start: at('src/cli/compiled.ts') } });
const { metafile } = await build({ ...options, ...asFunction, entryPoints: loaded });
const words = { words: at('src/rules/index.ts') };
await build({ ...options, ...asFunction, entryPoints: words, plugins: [lean, rulesWithout('looksAt', 'check', 'compare')] });
Object.assign(loaded, words);

// Letters of one byte each: the engine then keeps a text in half the space and reads it faster. Only patterns have others left,
// where an escape says the same.
for (const name of Object.keys(loaded)) {
  const file = path.join(bundle, `${name}.cjs`);
  const escaped = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
  fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace(/[^\0-\x7f]/g, escaped));
}

// The licences of the packages that the bundles carry.
const carried = new Set(
  Object.keys(metafile.inputs).flatMap((input) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(input.replaceAll('\\', '/'))?.[1] ?? []),
);
const licences = [...carried].sort().map((name) => {
  const folder = at('node_modules', name);
  const { version, license, author } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const files = fs.readdirSync(folder);
  const file = files.find((one) => /^licen[cs]e/i.test(one));
  if (file) return `${name} ${version}${license ? ` (${license})` : ''}\n\n${fs.readFileSync(path.join(folder, file), 'utf8').trim()}\n`;
  if (!license) throw new Error(`${name} is bundled, and nothing says under which licence`);
  return `${name} ${version} (${license})\n\nThe package carries no text of its licence; its package.json says: ${license}, ${author?.name ?? author ?? 'its authors'}.\n`;
});
fs.writeFileSync(path.join(bundle, 'LICENSES.txt'), licences.join(`\n${'-'.repeat(72)}\n\n`));

const fonts = at('node_modules/@expo-google-fonts/ibm-plex-sans');
fs.mkdirSync(at('dist/fonts'), { recursive: true });
fs.copyFileSync(path.join(fonts, 'LICENSE_FONT'), at('dist/fonts/LICENSE'));
const { openFont } = await import(pathToFileURL(at('dist/emit/pdf/fonts.js')));
const { prepare } = await import(pathToFileURL(at('dist/emit/pdf/prepared.js')));
for (const face of ['400Regular', '600SemiBold', '700Bold']) {
  const file = at('dist/fonts', `${face}.ttf`);
  fs.copyFileSync(path.join(fonts, face, `IBMPlexSans_${face}.ttf`), file);
  fs.writeFileSync(at('dist/fonts', `${face}.prepared`), prepare(openFont(fs.readFileSync(file))));
}

// A check looks at a shipped document only where a shop makes something else of it.
const { keepAtBuild } = await import(pathToFileURL(at('dist/cli/known-files.js')));
keepAtBuild();

// What says which build this is, whenever and wherever it was installed: what a check keeps holds for this one alone.
const digest = crypto.createHash('sha256');
for (const file of [...Object.keys(loaded).map((name) => path.join(bundle, `${name}.cjs`)), at('dist/shipped.json')])
  digest.update(fs.readFileSync(file));
fs.writeFileSync(path.join(bundle, 'digest.txt'), `${digest.digest('hex')}\n`);
