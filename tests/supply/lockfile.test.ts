/** What is installed to work on the project is what somebody once looked at: by hash, from no named place, and running nothing that was not allowed. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import semver from 'semver';
import { describe, expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { lockedPackages, lockfile, root } from './lockfile.ts';

/** What of the lockfile nobody should take, in words. */
function wrongIn(packages: typeof lockedPackages): string[] {
  return packages.flatMap(({ at, version, integrity, resolved, link }) => [
    ...(link ? [`${at}: is a link to a folder`] : []),
    ...(/^sha512-[A-Za-z0-9+/]{86}==$/.test(integrity ?? '') ? [] : [`${at}: no hash of 512 bits, but ${integrity}`]),
    ...(semver.valid(version) === version ? [] : [`${at}: no version, but ${version}`]),
    ...(resolved === undefined ? [] : [`${at}: an address to download from, ${resolved}`]),
  ]);
}

describe('the lockfile', () => {
  it('knows every package by version and hash, and no place to download one from', () => {
    expect(lockfile.lockfileVersion).toBe(3);
    expect(lockedPackages.length).toBeGreaterThan(100);
    expect(wrongIn(lockedPackages)).toEqual([]);
  });

  it('would be refused with a package from elsewhere, one without a hash, one with a weak one, or a folder', () => {
    const [one] = lockedPackages;
    if (!one) throw new Error('there is no package');
    const { integrity: _, ...bare } = one;
    expect(wrongIn([{ ...one, resolved: 'git+ssh://git@example.org/a.git#1' }])).toHaveLength(1);
    expect(wrongIn([bare])).toHaveLength(1);
    expect(wrongIn([{ ...one, integrity: 'sha1-2jmj7l5rSw0yVb/vlWAYkK/YBwk=' }])).toHaveLength(1);
    expect(wrongIn([{ ...one, link: true }])).toHaveLength(1);
  });

  it('is for this package.json', () => {
    const { '': own } = lockfile.packages;
    expect((own as Record<string, unknown>).devDependencies).toEqual(manifest.devDependencies);
    expect((own as Record<string, unknown>).engines).toEqual(manifest.engines);
    for (const [name, range] of Object.entries(manifest.devDependencies)) {
      const locked = lockfile.packages[`node_modules/${name}`]?.version ?? '';
      expect(semver.satisfies(locked, range), `${name} ${locked} is ${range}`).toBe(true);
    }
  });
});

describe('package.json', () => {
  it('takes packages by version alone, from the registry that a machine has', () => {
    for (const [name, range] of Object.entries(manifest.devDependencies))
      expect(semver.validRange(range), `${name}: ${range}`).not.toBeNull();
    expect(readFileSync(path.join(root, '.npmrc'), 'utf8').match(/^[^#\n].*/gm)).toEqual([
      'omit-lockfile-registry-resolved=true',
    ]);
  });

  it('asks for nothing to be installed where it is used: all that it needs is in it', () => {
    const kinds = ['dependencies', 'optionalDependencies', 'peerDependencies', 'bundleDependencies'];
    expect(kinds.filter((kind) => kind in manifest)).toEqual([]);
    expect(lockedPackages.filter(({ dev, devOptional }) => !dev && !devOptional).map(({ name }) => name)).toEqual([]);
  });

  it('runs nothing when it is installed', () => {
    // source: npm documentation, "scripts", life cycle of `npm install`
    const whenInstalled = ['preinstall', 'install', 'postinstall', 'preprepare', 'prepare', 'postprepare'];
    expect(whenInstalled.filter((name) => name in manifest.scripts)).toEqual([]);
  });

  it('says of each package whose own script may run here, which are two, whether it does', () => {
    const withScripts = new Set(lockedPackages.filter((one) => one.hasInstallScript).map(({ name }) => name));
    const allowed: Readonly<Record<string, boolean>> = manifest.allowScripts;
    expect(Object.keys(allowed).filter((name) => allowed[name])).toEqual(['esbuild', 'node']);
    // A comparison by one of them is skipped where it cannot run without its script.
    const unsaid = [...withScripts].filter((name) => !(name in allowed));
    expect(unsaid).toEqual(['@microsoft/sarif-multitool-darwin', '@microsoft/sarif-multitool-linux']);
  });

  it('names one oldest Node, which its own types and its bundles keep to', () => {
    const oldest = /^>=(\d+)$/.exec(manifest.engines.node)?.[1];
    expect(Number(oldest)).toBeGreaterThanOrEqual(22);
    expect(readFileSync(path.join(root, 'client/bundle.ts'), 'utf8')).toContain(`target: 'node${oldest}'`);
    // What the project itself runs on is a package, and so in the lockfile by its hash.
    expect(semver.gte(lockfile.packages['node_modules/node']?.version ?? '0.0.0', `${oldest}.0.0`)).toBe(true);
  });
});
