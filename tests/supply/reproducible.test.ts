/** The same sources give the same bytes, wherever and whenever they are built: whoever doubts what is shipped builds it again. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { lockedPackages, root } from './lockfile.ts';

const work = mkdtempSync(path.join(tmpdir(), 'storypole-built-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** The sources in a folder of their own. */
function copyTo(name: string): string {
  const folder = path.join(work, name);
  mkdirSync(folder, { recursive: true });
  for (const one of ['client', 'grammar', 'server', 'examples', 'LICENSE', 'README.md', 'package-lock.json'])
    cpSync(path.join(root, one), path.join(folder, one), { recursive: true });
  // What is packed is what has been built here.
  const { 'vscode:prepublish': _, ...scripts } = manifest.scripts;
  writeFileSync(path.join(folder, 'package.json'), JSON.stringify({ ...manifest, scripts }));
  symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'));
  return folder;
}

function run(folder: string, words: readonly string[], env: NodeJS.ProcessEnv): void {
  const made = spawnSync(process.execPath, words, { cwd: folder, encoding: 'utf8', env: { ...process.env, ...env } });
  if (made.status !== 0) throw new Error(`${words.join(' ')}: ${made.stdout}${made.stderr}`);
}

const first = copyTo('a');
const second = copyTo('somewhere/else and deeper/é');
run(first, ['client/bundle.ts', '--sbom'], { TZ: 'UTC', LANG: 'C' });
run(first, ['client/package.ts'], { TZ: 'UTC' });
run(second, ['client/bundle.ts', '--sbom'], { TZ: 'Asia/Tokyo', LANG: 'de_DE.UTF-8' });
run(second, ['client/package.ts'], { TZ: 'Asia/Tokyo' });

const hashes = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(path.join(folder, 'dist'), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => path.join(parentPath, name))
      .map((file) => [path.relative(folder, file), createHash('sha256').update(readFileSync(file)).digest('hex')]),
  );

it('two builds in two folders are the same to the byte, the .vsix and the bill of materials with them', () => {
  const made = hashes(first);
  expect(Object.keys(made)).toEqual(
    expect.arrayContaining(['dist/cli.cjs', 'dist/server-web.js', 'dist/storypole.vsix', 'dist/storypole.cdx.json']),
  );
  expect(hashes(second)).toEqual(made);
});

it('no path of the machine that built it stands in it', () => {
  for (const name of readdirSync(path.join(first, 'dist'), { withFileTypes: true })) {
    if (!name.isFile() || name.name.endsWith('.vsix')) continue;
    const text = readFileSync(path.join(first, 'dist', name.name), 'utf8');
    for (const place of [work, root, tmpdir()])
      expect(text.includes(`${place}/`), `${name.name}: ${place}`).toBe(false);
  }
});

describe('the bill of materials', () => {
  const text = readFileSync(path.join(first, 'dist/storypole.cdx.json'), 'utf8');
  const bom = JSON.parse(text);

  it('is CycloneDX 1.6', async () => {
    // source: the published schema (cyclonedx.org, bom-1.6.schema.json) as the library of its authors carries it
    const { Spec, Validation } = await import('@cyclonedx/cyclonedx-library');
    const validator = new Validation.JsonStrictValidator(Spec.Version.v1dot6);
    expect(await validator.validate(text)).toBeNull();
    expect(await validator.validate(text.replace('"library"', '"thing"'))).not.toBeNull();
  });

  it('lists what the notices list, by the hashes of the lockfile', () => {
    const notices = readFileSync(path.join(first, 'dist/third-party-notices.txt'), 'utf8');
    const listed = [...notices.matchAll(/^(\S+@\d[^:\s]*): /gm)].map(([, name]) => name).sort();
    const components: { 'bom-ref': string; purl: string; licenses: unknown[]; hashes: { content: string }[] }[] =
      bom.components;
    expect(components.map((one) => one['bom-ref']).sort()).toEqual(listed);
    const locked = new Map(lockedPackages.map(({ name, version, integrity }) => [`${name}@${version}`, integrity]));
    for (const {
      'bom-ref': ref,
      purl,
      licenses,
      hashes: [hash],
    } of components) {
      expect(`sha512-${Buffer.from(hash?.content ?? '', 'hex').toString('base64')}`, ref).toBe(locked.get(ref));
      expect(licenses, ref).toHaveLength(1);
      // source: package-url specification, type npm: the scope is percent-encoded
      expect(purl).toBe(`pkg:npm/${ref.replace(/^@/, '%40')}`);
    }
    expect(bom.metadata.component.purl).toBe(`pkg:npm/storypole@${manifest.version}`);
  });

  it('has a number that follows from what it holds', () => {
    expect(bom.serialNumber).toMatch(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(bom.metadata.timestamp).toBeUndefined();
  });
});

it('what was bundled asks for no module but those of Node, and of VS Code where that loads it', () => {
  const builtin = new Set(createRequire(import.meta.url)('node:module').builtinModules as string[]);
  for (const name of ['cli', 'server', 'plan-worker', 'client']) {
    const text = readFileSync(path.join(first, 'dist', `${name}.cjs`), 'utf8');
    const asked = new Set(
      [...text.matchAll(/\brequire\("([^"]+)"\)/g)].map(([, module = '']) => module.replace(/^node:/, '')),
    );
    // The planner is plain computing, and talks to who started it.
    if (name !== 'plan-worker') expect(asked.size, name).toBeGreaterThan(0);
    const others = [...asked].filter((module) => !builtin.has(module));
    expect(others, name).toEqual(name === 'client' ? ['vscode'] : []);
  }
  for (const name of ['server-web', 'plan-worker-web', 'drawing', 'site-page-web'])
    expect(readFileSync(path.join(first, 'dist', `${name}.js`), 'utf8')).not.toMatch(/\brequire\("/);
});
