/** Language servers that are timed beside ours, each on the same amount of text of its own kind. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { longTemplate, manyUnits } from './texts.ts';

/** A text with the places that are used: an edit makes an error at `at` by putting `bad` for as many characters. */
export interface Sample {
  readonly text: string;
  readonly at: number;
  readonly good: string;
  readonly bad: string;
  /** Something to hover over, and a place at which to ask for completions. */
  readonly hover: number;
  readonly complete: number;
}

export interface Peer {
  readonly name: string;
  readonly command: readonly [string, ...string[]];
  readonly languageId: string;
  readonly extension: string;
  readonly initializationOptions?: object;
  /** Answers to workspace/configuration, by section. */
  readonly settings?: (folder: string) => Readonly<Record<string, unknown>>;
  /** Files that have to be there. */
  readonly files?: Readonly<Record<string, string>>;
  readonly sample: (lines: number) => Sample;
  /** A shared file, and files that depend on it. */
  readonly shared?: { readonly sample: Omit<Sample, 'hover' | 'complete'>; readonly dependant: (i: number) => string };
}

const root = join(import.meta.dirname, '../..');

export const ours: Peer = {
  name: 'storypole',
  command: [process.execPath, join(root, 'dist/storypole.cjs'), 'language-server', '--stdio'],
  languageId: 'closet',
  extension: 'closet',
  sample(lines) {
    const text = manyUnits(lines);
    const at = text.indexOf('in\n', Math.floor(text.length / 2));
    const statement = text.lastIndexOf('width', at);
    return { text, at, good: 'in', bad: 'ix', hover: statement + 1, complete: statement + 6 };
  },
  shared: {
    sample: marked(
      'project "Quarry Lane" { kerf 1/8in }\nboard white-12 { depth 12in; thickness 3/4in }\nstock white-12 { length 12ft }\n' +
        'template reach-in {\n  parameter <<width>>: length from 20in to 98in\n  board white-12\n  wall back { length 60in; height 96in }\n' +
        '  zone a on back { width fill; shelf s { at 84in } }\n}\n',
      'widtx',
    ),
    dependant: (i) => `unit u${i} reach-in {\n  floor ${i % 5}\n  width ${40 + (i % 50)}in\n}\n`,
  },
};

/** A width is edited in one template of so many lines, on which all of it rests: no other language has such a thing. */
export const oursInTemplate: Peer = {
  ...ours,
  name: 'storypole, all in one template',
  sample(lines) {
    const text = longTemplate(lines);
    const statement = text.indexOf('width 24in', Math.floor(text.length / 2));
    const at = statement + 'width 24'.length;
    return { text, at, good: 'in', bad: 'ix', hover: statement + 1, complete: statement + 6 };
  },
};

export const typescript: Peer = {
  name: 'TypeScript 7, native',
  command: [join(root, 'node_modules/.bin/tsc'), '--lsp', '--stdio'],
  languageId: 'typescript',
  extension: 'ts',
  files: {
    'tsconfig.json': JSON.stringify({
      compilerOptions: { strict: true, noEmit: true, types: [], lib: ['es2022'], moduleResolution: 'bundler' },
      include: ['*.ts'],
    }),
  },
  sample(lines) {
    const records = Array.from(
      { length: Math.max(3, Math.floor((lines - 2) / 5)) },
      (_, i) => `export const u${i + 1}: Unit = {\n  zone: "base",\n  width: ${i % 50},\n  above: u${i},\n};\n`,
    );
    const text =
      'export interface Unit { zone: "base" | "wall" | "tall"; width: number; above?: Unit }\n' +
      `export const u0: Unit = { zone: "base", width: 6 };\n${records.join('')}`;
    const above = text.indexOf('above: u', Math.floor(text.length / 2));
    return {
      text,
      at: above + 7,
      good: 'u',
      bad: 'x',
      hover: text.lastIndexOf('width', above) + 1,
      complete: text.lastIndexOf('"base', above) + 1,
    };
  },
  shared: {
    sample: marked('export interface Unit { readonly <<width>>: number }\n', 'widtx'),
    dependant: (i) => `import type { Unit } from './shared';\nexport const u${i}: Unit = { width: ${i} };\n`,
  },
};

const schema = {
  type: 'object',
  properties: {
    units: {
      type: 'array',
      items: {
        type: 'object',
        properties: { zone: { enum: ['base', 'wall', 'tall'] }, width: { type: 'integer', description: 'How wide.' } },
      },
    },
  },
};

const json: Omit<Peer, 'command'> = {
  name: 'JSON with a schema',
  languageId: 'json',
  extension: 'json',
  initializationOptions: { provideFormatter: true, handledSchemaProtocols: ['file'] },
  files: { 'units.schema': JSON.stringify(schema) },
  settings: (folder) => ({
    json: {
      validate: { enable: true },
      format: { enable: true },
      schemas: [{ fileMatch: ['*.json'], url: `file://${folder}/units.schema` }],
    },
  }),
  sample(lines) {
    const records = Array.from(
      { length: Math.max(3, Math.floor((lines - 4) / 5)) },
      (_, i) => `    {\n      "id": "u${i}",\n      "zone": "base",\n      "width": ${i % 50}\n    }`,
    );
    const text = `{\n  "units": [\n${records.join(',\n')}\n  ]\n}\n`;
    const zone = text.indexOf('"base"', Math.floor(text.length / 2));
    return { text, at: zone + 1, good: 'b', bad: 'x', hover: text.indexOf('"width"', zone) + 2, complete: zone + 1 };
  },
};

/** Installed once into a folder for caches, outside the project; left out where that does not work. */
function installed(name: string, version: string, file: string): string | undefined {
  const folder = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'storypole-bench');
  const found = join(folder, 'node_modules', file);
  if (!existsSync(found)) {
    mkdirSync(folder, { recursive: true });
    spawnSync('npm', ['install', '--prefix', folder, '--no-audit', '--no-fund', `${name}@${version}`], {
      stdio: 'ignore',
    });
  }
  return existsSync(found) ? found : undefined;
}

export function peers(): Peer[] {
  const server = installed(
    'vscode-langservers-extracted',
    '4.10.0',
    'vscode-langservers-extracted/bin/vscode-json-language-server',
  );
  return [typescript, ...(server ? [{ ...json, command: [process.execPath, server, '--stdio'] as const }] : [])];
}

/** `<<good>>` stands where the edit is made. */
function marked(text: string, bad: string): Omit<Sample, 'hover' | 'complete'> {
  const at = text.indexOf('<<');
  const good = text.slice(at + 2, text.indexOf('>>'));
  return { text: text.replace(`<<${good}>>`, good), at, good, bad };
}
