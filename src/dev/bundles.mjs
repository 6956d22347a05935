// What starts at the prompt, in bundles: a few files to read instead of three hundred. The first, `start`, is a module; it
// loads the others, each when it is needed and each one function (src/cli/compiled.ts). The less there is to read, the sooner
// it starts. Large libraries that only some commands need stay packages.
import fs from 'node:fs';
import path from 'node:path';
import { build, transform } from 'esbuild';
import ts from 'typescript';
import { documentKinds } from './generate.mjs';

const packages = ['yaml', 'vscode-languageserver', 'vscode-languageserver/node'];

/** What has a bundle of its own and is loaded by a dynamic import. */
const imported = {
  main: 'src/cli/main.ts',
  check: 'src/cli/commands/check.ts',
  fresh: 'src/cli/fresh.ts',
  build: 'src/cli/commands/build.ts',
  commands: 'src/cli/commands.ts',
  paper: 'src/cli/paper.ts',
};

/**
 * What has a bundle of its own and is loaded when something of it is first asked for: why a document is wrong and the schemas
 * in words, only where something is wrong; what opens fonts, only where a letter is not common (pdfkit is given open ones);
 * German, only where paper speaks it; `yaml`, where a file cannot be read; the words of the rules, where they are explained.
 */
const late = {
  validators: { from: 'src/schema/generated/validators.cjs', has: documentKinds },
  schemas: { from: 'src/schema/generated/schemas.ts', has: ['definitions'] },
  fontkit: { from: 'node_modules/fontkit/dist/main.cjs', has: ['create'] },
  de: { from: 'src/words/de.ts', has: ['de'] },
  'yaml-package': { from: 'src/syntax/yaml-package.ts', has: ['parseDocument', 'visit'] },
  words: { from: 'src/rules/index.ts', has: ['allRules'] },
};

/** The bundle that stands in for a module, where one does. */
function lateBundle(asked, importer) {
  if (asked === 'fontkit') return importer.includes('pdfkit') ? null : 'fontkit';
  if (asked.endsWith('/rules/index.js')) return /(explain|sarif)\.ts$/.test(importer) ? 'words' : null;
  return path.parse(asked).name;
}

/**
 * What a package asks for and is never used here: programs of their own as commands (commander), whether this is a terminal
 * (chalk, which is told), breaking of lines, pictures, encryption with its random numbers and fonts that are not open yet
 * (pdfkit), fonts of the web (fontkit).
 */
const unused =
  /^(node:child_process|#supports-color|linebreak|png-js|@noble\/ciphers\/aes|@noble\/hashes\/crypto|fontkit|brotli\/decompress\.js)$/;

/** A plugin that has other modules stand in for some. */
const standIns = (name, filter, stands, contents) => ({
  name,
  setup({ onResolve, onLoad }) {
    onResolve({ filter }, (asked) => {
      const found = asked.kind === 'entry-point' ? null : stands(asked);
      return found === null ? undefined : { path: found, namespace: name };
    });
    onLoad({ filter: /.*/, namespace: name }, contents);
  },
});

/** Modules of Node that few runs need: loaded at the first question. */
const isSeldom = /^node:v8$/;
const seldom = (name) => `new Proxy({}, { get: (_, asked) => require('${name}')[asked] })`;

const plugins = [
  standIns(
    'imported',
    new RegExp(`/(${Object.keys(imported).join('|')})\\.js$`),
    ({ kind, path: asked }) => (kind === 'dynamic-import' ? path.basename(asked, '.js') : null),
    ({ path: name }) => ({ contents: `module.exports = bundled('${name}');` }),
  ),
  standIns(
    'late',
    /^fontkit$|\/(validators\.cjs|schemas\.js|de\.js|yaml-package\.js|rules\/index\.js)$/,
    ({ path: asked, importer }) => lateBundle(asked, importer),
    ({ path: name }) => ({
      contents: `let all;\n${late[name].has
        .map((one) => `Object.defineProperty(exports, '${one}', { get: () => (all ??= bundled('${name}')).${one}, enumerable: true });`)
        .join('\n')}`,
    }),
  ),
  standIns(
    'unused',
    unused,
    ({ path: asked }) => asked,
    () => ({ contents: 'module.exports = {};' }),
  ),
  // A module of Node as it is: what stands in for it to allow named imports has a copy of all its names.
  standIns(
    'node',
    /^node:/,
    ({ kind, path: asked }) => (kind === 'import-statement' ? asked : null),
    ({ path: name }) => ({ contents: `export default ${isSeldom.test(name) ? seldom(name) : `require('${name}')`};` }),
  ),
  // Properties of all characters, which fontkit unpacks when it is loaded: only when the first is asked for.
  standIns(
    'unpacked-late',
    /^unicode-trie$/,
    ({ path: asked, pluginData }) => (pluginData === 'packed' ? null : asked),
    ({ path: name }) => ({
      contents: `module.exports = class {
  constructor(data) { this.packed = data; }
  get(code) { return (this.trie ??= new (require('${name}'))(this.packed)).get(code); }
};`,
      resolveDir: import.meta.dirname,
      pluginData: 'packed',
    }),
  ),
  {
    name: 'shorter',
    setup({ onLoad }) {
      const short = { minify: true, treeShaking: true, format: 'cjs', platform: 'node', target: 'node20' };
      onLoad({ filter: /generated[\\/]\w+\.cjs$/ }, async ({ path: file }) => ({
        contents: (await transform(fs.readFileSync(file, 'utf8'), short)).code,
      }));
      // The sum over an attached file, by Node instead of by pdfkit's own script; where Node may not (FIPS), that stays. And
      // letters of one byte, all at once.
      const swaps = [
        [
          'return md5.create().update(data).digest();',
          (own) => `try { return require('node:crypto').createHash('md5').update(data).digest(); } catch { ${own} }`,
        ],
        [/const fromBinaryString = str => \{.*?\n\};/s, () => "const fromBinaryString = str => Buffer.from(str, 'latin1');"],
      ];
      onLoad({ filter: /[\\/]pdfkit\.js$/ }, ({ path: file }) => {
        let contents = fs.readFileSync(file, 'utf8');
        for (const [own, ours] of swaps) {
          const swapped = contents.replace(own, ours);
          if (swapped === contents) throw new Error(`pdfkit has no ${own} any more`);
          contents = swapped;
        }
        return { contents };
      });
    },
  },
];

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

/**
 * Makes the bundles of a project in a folder.
 * @returns their files, and the packages that they carry
 */
export async function makeBundles(root, folder) {
  const at = (...parts) => path.join(root, ...parts);
  const options = {
    metafile: true,
    outdir: folder,
    outExtension: { '.js': '.cjs' },
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    external: packages,
    // As pdfkit itself asks for it: one copy.
    alias: { pdfkit: at('node_modules/pdfkit/js/pdfkit.js') },
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
  const entries = (modules) => Object.fromEntries(Object.entries(modules).map(([name, from]) => [name, at(from)]));
  const { words, ...others } = Object.fromEntries(Object.entries(late).map(([name, { from }]) => [name, from]));
  const withoutWords = [...plugins, rulesWithout('finds', 'why', 'mend', 'bad', 'good')];
  const withoutChecks = [...plugins, rulesWithout('looksAt', 'check', 'compare')];
  const made = [
    await build({ ...options, entryPoints: { start: at('src/cli/compiled.ts') }, plugins }),
    await build({ ...options, ...asFunction, entryPoints: entries({ ...imported, ...others }), plugins: withoutWords }),
    await build({ ...options, ...asFunction, entryPoints: entries({ words }), plugins: withoutChecks }),
  ];
  const files = [...Object.keys(imported), ...Object.keys(late)].map((name) => path.join(folder, `${name}.cjs`));
  for (const file of files) ofOneByteEach(file);
  return { files, carried: packagesIn(made.flatMap(({ metafile }) => Object.keys(metafile.inputs))) };
}

/** The engine then keeps a text in half the space and reads it faster. Only patterns have other letters left, where an escape says the same. */
function ofOneByteEach(file) {
  const escaped = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
  fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace(/[^\0-\x7f]/g, escaped));
}

const packagesIn = (inputs) =>
  [...new Set(inputs.flatMap((input) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(input.replaceAll('\\', '/'))?.[1] ?? []))].sort();
