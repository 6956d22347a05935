// Makes TypeScript types, schema constants and standalone validators from schemas/*.schema.json.
// The schemas are the one source; what this writes is never edited and never committed.
import fs from 'node:fs';
import path from 'node:path';
import { _ } from 'ajv';
import Ajv2020 from 'ajv/dist/2020.js';
import standalone from 'ajv/dist/standalone/index.js';
import { useFunc } from 'ajv/dist/compile/util.js';
import characters from 'ajv/dist/runtime/ucs2length.js';
import applicator from 'ajv/dist/vocabularies/applicator/additionalProperties.js';
import ofLength from 'ajv/dist/vocabularies/validation/limitLength.js';
import ofProperties from 'ajv/dist/vocabularies/validation/limitProperties.js';
import { create } from 'fontkit';
import { compile } from 'json-schema-to-typescript';
import ts from 'typescript';

const additionalProperties = applicator.default;
const limitLength = ofLength.default;
const limitProperties = ofProperties.default;

/** Keywords of ours, for the decoder and the type maker; JSON Schema itself ignores them. */
const ownKeywords = ['quantity', 'signed', 'extent', 'tsType'];

export const documentKinds = ['shop', 'vehicle', 'procedure', 'preparation', 'parts', 'job'];

const read = (root, name) => JSON.parse(fs.readFileSync(path.join(root, 'schemas', `${name}.schema.json`), 'utf8'));

const pascal = (name) => name.replace(/(^|-)([a-z])/g, (_, _dash, letter) => letter.toUpperCase());

/** References between files become references inside one bundle, so that each definition is made once. */
function bundle(root) {
  const rename = (node) => {
    if (Array.isArray(node)) return node.map(rename);
    if (node === null || typeof node !== 'object') return node;
    const { $schema, $id, ...rest } = node;
    for (const [key, value] of Object.entries(rest)) {
      rest[key] = key === '$ref' ? value.replace('common.schema.json', '').replace(/\$defs\/(.+)$/, (_, n) => `$defs/${n}`) : rename(value);
    }
    return rest;
  };
  const $defs = rename(read(root, 'common').$defs);
  for (const kind of documentKinds) $defs[`${kind}-document`] = rename(read(root, kind));
  for (const [name, definition] of Object.entries($defs)) definition.title = pascal(name);
  return $defs;
}

/** What says something to people and nothing to a validator. */
const annotations = new Set(['description', 'examples', 'title', 'tsType', 'quantity', 'signed', 'extent', 'default', 'deprecated']);

/**
 * The schemas as a validator needs them: without what is for people, and with one definition for what stands in many
 * places, as the objects of all verbs do. The validators are then a fraction of the size, and so is the start.
 */
function sharing(schemas) {
  const bare = (node, isMap) => {
    if (Array.isArray(node)) return node.map((one) => bare(one, false));
    if (node === null || typeof node !== 'object') return node;
    const kept = Object.entries(node).filter(([key]) => isMap || !annotations.has(key));
    return Object.fromEntries(
      kept.map(([key, value]) => [key, bare(value, !isMap && ['properties', '$defs', 'patternProperties'].includes(key))]),
    );
  };
  const counts = new Map();
  const shareable = (node) => node && typeof node === 'object' && !node.$ref && JSON.stringify(node).length > 20;
  const places = (schema, use) => {
    for (const [name, one] of Object.entries(schema.properties ?? {})) use(schema.properties, name, one);
    if (schema.items) use(schema, 'items', schema.items);
    if (typeof schema.additionalProperties === 'object') use(schema, 'additionalProperties', schema.additionalProperties);
    for (const [name, one] of Object.entries(schema.$defs ?? {})) places(one, use, name);
  };
  const count = (_holder, _name, one) => {
    if (!shareable(one)) return;
    const text = JSON.stringify(one);
    counts.set(text, (counts.get(text) ?? 0) + 1);
    places(one, count);
  };
  const all = schemas.map((schema) => bare(schema, false));
  for (const schema of all) places(schema, count);
  const shared = { $id: 'shared.schema.json', $defs: {} };
  const names = new Map();
  const replace = (holder, name, one) => {
    if (!shareable(one)) return;
    const text = JSON.stringify(one);
    // A reference within its own file would point elsewhere from another.
    if (counts.get(text) > 1 && !text.includes('"#')) {
      if (!names.has(text)) {
        names.set(text, `same-${names.size + 1}`);
        shared.$defs[names.get(text)] = one;
        places(one, replace);
      }
      holder[name] = { $ref: `shared.schema.json#/$defs/${names.get(text)}` };
    } else places(one, replace);
  };
  for (const schema of all) places(schema, replace);
  return [...all, shared];
}

/**
 * `properties`, asking of each key that is there what it must be; ajv's own asks of each of eighty verbs and modifiers
 * whether it is there.
 * @param alone whether it also refuses the keys that are none (`noOthers`), in the same pass
 */
const propertiesByKey = (alone) => ({
  keyword: 'properties',
  type: 'object',
  schemaType: 'object',
  code(cxt) {
    const { gen, schema, parentSchema, data, it } = cxt;
    const names = Object.keys(schema);
    for (const name of names) it.definedProperties.add(name);
    const closed = alone && parentSchema.additionalProperties === false;
    const asked = closed ? names : names.filter((name) => Object.keys(schema[name]).length > 0);
    if (asked.length === 0 && !closed) return;
    const valid = gen.name('valid');
    gen.forIn('key', data, (key) => {
      asked.forEach((name, index) => {
        const same = _`${key} === ${name}`;
        if (index === 0) gen.if(same);
        else gen.elseIf(same);
        if (Object.keys(schema[name]).length > 0) cxt.subschema({ keyword: 'properties', schemaProp: name, dataProp: name }, valid);
      });
      if (closed && asked.length > 0) gen.else();
      if (closed) cxt.error();
      if (asked.length > 0) gen.endIf();
    });
  },
});

/** `additionalProperties`, where `propertiesByKey` has not refused them already. */
const noOthers = {
  ...additionalProperties,
  code(cxt) {
    if (cxt.schema !== false || !cxt.parentSchema.properties) additionalProperties.code(cxt);
  },
};

/** `maxLength` and `minLength`, counting characters only where a text may have fewer of them than it takes room. */
const lengths = {
  ...limitLength,
  code(cxt) {
    const { gen, keyword, data, schema } = cxt;
    if (keyword === 'maxLength') cxt.fail(_`${data}.length > ${schema} && ${useFunc(gen, characters.default)}(${data}) > ${schema}`);
    else if (schema === 1) cxt.fail(_`${data}.length < 1`);
    else limitLength.code(cxt);
  },
};

/** `minProperties`, which is always 1: whether an object has any key, without a list of them. */
const anyKey = {
  ...limitProperties,
  keyword: 'minProperties',
  code(cxt) {
    const { gen, data, schema } = cxt;
    if (schema !== 1) return limitProperties.code(cxt);
    const hasKey = gen.scopeValue('func', {
      key: 'hasKey',
      ref: 'hasKey',
      code: _`(object) => { for (const key in object) return true; return false; }`,
    });
    cxt.fail(_`!${hasKey}(${data})`);
  },
};

/**
 * Validators that say only whether all is right, made of those of ajv by leaving out what they note of each mistake and
 * the way to it: most documents have no mistake, and this takes half the time and has a quarter of the size.
 */
function withoutReasons(code) {
  const source = ts.createSourceFile('validators.cjs', code, ts.ScriptTarget.ES2022, true, ts.ScriptKind.JS);
  const isNote = (text) => /^(vErrors|err\d+|evaluated\d+|validate\d+\.(errors|evaluated))\b/.test(text);
  const strip = (context) => (root) => {
    const { factory } = context;
    const visit = (node) => {
      if (ts.isExpressionStatement(node) && node.getText() === 'errors = vErrors.length;')
        return factory.createExpressionStatement(factory.createPostfixIncrement(factory.createIdentifier('errors')));
      if (ts.isExpressionStatement(node) && isNote(node.getText())) return undefined;
      if (ts.isVariableStatement(node) && isNote(node.declarationList.declarations[0].getText())) return undefined;
      if (ts.isIfStatement(node) && isNote(node.expression.getText())) return undefined;
      const made = ts.visitEachChild(node, visit, context);
      if (ts.isCallExpression(made) && /^validate\d+$/.test(node.expression.getText()))
        return factory.updateCallExpression(made, made.expression, undefined, made.arguments.slice(0, 1));
      if (ts.isFunctionDeclaration(made) && /^validate\d+$/.test(made.name?.text ?? ''))
        return factory.updateFunctionDeclaration(made, [], undefined, made.name, [], made.parameters.slice(0, 1), undefined, made.body);
      return made;
    };
    return ts.visitNode(root, visit);
  };
  const bare = ts.createPrinter().printFile(ts.transform(source, [strip]).transformed[0]);
  if (/vErrors|instancePath|evaluated/.test(bare)) throw new Error('ajv notes mistakes otherwise now');
  return bare;
}

/** ajv copies all errors found so far for every part that has one; of thousands that takes minutes. They are put behind each other. */
function joiningSoon(code) {
  const copied = /vErrors === null \? (\w+)\.errors : vErrors\.concat\(\1\.errors\)/g;
  if (!copied.test(code)) throw new Error('ajv joins errors otherwise now');
  return `${code.replace(copied, 'joined(vErrors, $1.errors)')}
function joined(before, more) {
  if (before === null) return more;
  for (const one of more) before.push(one);
  return before;
}
`;
}

/** The list of all rules: every file two levels below src/rules. */
function generateRuleIndex(root) {
  const rules = path.join(root, 'src/rules');
  const names = fs
    .readdirSync(rules, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .flatMap((family) => fs.readdirSync(path.join(rules, family.name)).map((file) => `${family.name}/${file.replace(/\.ts$/, '')}`))
    .sort();
  const variable = (name) => name.replace(/[-/]([a-z])/g, (_, letter) => letter.toUpperCase());
  const lines = [
    '// Made from the folders beside it by src/dev/generate.mjs.',
    "import type { Rule } from './rule.js';",
    ...names.map((name) => `import { rule as ${variable(name)} } from './${name}.js';`),
    '',
    `export const allRules: readonly Rule[] = [\n  ${names.map(variable).join(',\n  ')},\n];`,
    '',
  ];
  fs.writeFileSync(path.join(rules, 'index.ts'), lines.join('\n'));
}

/** The script of the page for a screen, as a text that the page carries. */
function generateScreen(root) {
  const source = fs.readFileSync(path.join(root, 'src/emit/html/screen/screen.ts'), 'utf8');
  const compilerOptions = { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.None, removeComments: true };
  const { outputText } = ts.transpileModule(source, { compilerOptions });
  const folder = path.join(root, 'src/emit/html/generated');
  fs.mkdirSync(folder, { recursive: true });
  const script = `(() => {\n${outputText.trim()}\n})();`;
  fs.writeFileSync(
    path.join(folder, 'screen.ts'),
    `// Made from src/emit/html/screen/ by src/dev/generate.mjs.\nexport const screenScript = ${JSON.stringify(script)};\n`,
  );
}

/** The characters that all faces of the paper's font have, as a class of a pattern: `check` asks for them without opening a font. */
function generateCharacters(root) {
  const font = path.join(root, 'node_modules/@expo-google-fonts/ibm-plex-sans');
  const [first, ...others] = ['400Regular', '600SemiBold', '700Bold'].map(
    (face) => new Set(create(fs.readFileSync(path.join(font, face, `IBMPlexSans_${face}.ttf`))).characterSet),
  );
  const ranges = [];
  for (const code of [...first].sort((a, b) => a - b)) {
    if (!others.every((face) => face.has(code))) continue;
    const last = ranges.at(-1);
    if (last?.[1] === code - 1) last[1] = code;
    else ranges.push([code, code]);
  }
  const written = (code) => `\\u{${code.toString(16)}}`;
  const folder = path.join(root, 'src/layout/generated');
  fs.mkdirSync(folder, { recursive: true });
  fs.writeFileSync(
    path.join(folder, 'characters.ts'),
    `// Made from the font by src/dev/generate.mjs.\nexport const inFont = '${ranges.map(([from, to]) => (from === to ? written(from) : `${written(from)}-${written(to)}`)).join('')}';\n`,
  );
}

/** What the decoder of documents without mistakes needs of their schemas: the way to figures, references followed, and what is alike once. */
function formsOf($defs) {
  const names = new Map();
  const lines = [];
  const formOf = (schema) => {
    if (schema.$ref) return formOf($defs[schema.$ref.replace('#/$defs/', '')]);
    const { quantity, signed, extent, properties, items, additionalProperties: others } = schema;
    const keys = Object.entries(properties ?? {}).flatMap(([key, one]) => {
      const form = formOf(one);
      return form ? [`${JSON.stringify(key)}: ${form}`] : [];
    });
    const inside = [
      keys.length > 0 ? `{ __proto__: null as never, ${keys.join(', ')} }` : undefined,
      items && formOf(items),
      typeof others === 'object' ? formOf(others) : undefined,
    ];
    if (quantity === undefined && inside.every((one) => one === undefined)) return undefined;
    const parts = [JSON.stringify(quantity), signed === true, JSON.stringify(extent), ...inside];
    const made = `new Form(${parts.map(String).join(', ')})`;
    if (!names.has(made)) {
      names.set(made, `f${names.size}`);
      lines.push(`const ${names.get(made)} = ${made};`);
    }
    return names.get(made);
  };
  const kinds = documentKinds.map((kind) => `${kind}: ${formOf($defs[`${kind}-document`])}`);
  return `${lines.join('\n')}\n\nexport const forms = { ${kinds.join(', ')} };\n`;
}

export async function generate(root) {
  generateScreen(root);
  generateCharacters(root);
  generateRuleIndex(root);
  const folder = path.join(root, 'src/schema/generated');
  fs.mkdirSync(folder, { recursive: true });
  const $defs = bundle(root);

  const typed = await compile(
    { title: 'AnyDocument', $defs, anyOf: documentKinds.map((kind) => ({ $ref: `#/$defs/${kind}-document` })) },
    'AnyDocument',
    { bannerComment: '', additionalProperties: false, unreachableDefinitions: true, ignoreMinAndMaxItems: true, format: false },
  );
  const imports = "import type { Decimal } from 'decimal.js';\nimport type { Amount, Quantity } from '../../quantity/quantity.js';\n";
  fs.writeFileSync(path.join(folder, 'types.ts'), `// Made from schemas/ by src/dev/generate.mjs.\n${imports}\n${typed}`);

  const compiled = await compile(read(root, 'compiled-job'), 'CompiledJob', {
    bannerComment: '',
    additionalProperties: false,
    format: false,
    ignoreMinAndMaxItems: true,
  });
  fs.writeFileSync(
    path.join(folder, 'compiled-job.ts'),
    `// Made from schemas/compiled-job.schema.json by src/dev/generate.mjs.\n${compiled}`,
  );

  fs.writeFileSync(
    path.join(folder, 'schemas.ts'),
    `// Made from schemas/ by src/dev/generate.mjs.\nimport type { SchemaNode } from '../node.js';\n\nexport const definitions: Record<string, SchemaNode> = ${JSON.stringify($defs)};\n`,
  );

  fs.writeFileSync(
    path.join(folder, 'forms.ts'),
    `// Made from schemas/ by src/dev/generate.mjs.\nimport { Form } from '../form.js';\n\n${formsOf($defs)}`,
  );

  const schemas = sharing(['common', ...documentKinds].map((name) => read(root, name)));
  const validators = (allErrors) => {
    const ajv = new Ajv2020({
      schemas,
      unevaluated: false,
      allErrors,
      strictTypes: false,
      allowUnionTypes: true,
      messages: false,
      inlineRefs: false,
      code: { source: true },
    });
    for (const keyword of ownKeywords) ajv.addKeyword(keyword);
    ajv.removeKeyword('properties').addKeyword(propertiesByKey(!allErrors));
    if (!allErrors)
      for (const quick of [noOthers, lengths, anyKey]) {
        for (const name of [quick.keyword].flat()) ajv.removeKeyword(name);
        ajv.addKeyword(quick);
      }
    return standalone(ajv, Object.fromEntries(documentKinds.map((kind) => [kind, `${kind}.schema.json`])));
  };
  fs.writeFileSync(path.join(folder, 'validators.cjs'), joiningSoon(validators(true)));
  fs.writeFileSync(path.join(folder, 'right.cjs'), withoutReasons(validators(false)));
  fs.writeFileSync(
    path.join(folder, 'validators.d.cts'),
    "import type { ValidateFunction } from 'ajv';\ndeclare const validators: Record<string, ValidateFunction>;\nexport = validators;\n",
  );
  fs.writeFileSync(
    path.join(folder, 'right.d.cts'),
    'declare const right: Record<string, (value: unknown) => boolean>;\nexport = right;\n',
  );
}
