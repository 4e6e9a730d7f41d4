/** Which packages are in what was bundled, as esbuild tells it; what has to be shipped with them, and the list of them for others to check. */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Metafile } from 'esbuild';
import { licenceOf, licenceTexts, type PackageManifest } from './licences.ts';

export interface BundledPackage {
  readonly manifest: PackageManifest;
  readonly folder: string;
  /** The files of dist/ that hold some of it, sorted. */
  readonly into: readonly string[];
}

/** Where something of a package went. */
export interface Taken {
  /** The file of dist/. */
  readonly into: string;
  /** The folder of the package. */
  readonly folder: string;
}

const packageFolder = /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/;

/** Every package of which some bytes are in an output. Paths of inputs are relative to `root`. */
export function takenInto(into: string, { outputs }: Metafile, root: string): Taken[] {
  const folders = new Set<string>();
  for (const { inputs } of Object.values(outputs)) {
    for (const [input, { bytesInOutput }] of Object.entries(inputs)) {
      const found = packageFolder.exec(input)?.[0];
      if (found !== undefined && bytesInOutput > 0) folders.add(path.resolve(root, found));
    }
  }
  return [...folders].map((folder) => ({ into, folder }));
}

/** Sorted by name, then by version. */
export async function bundledPackages(taken: readonly Taken[]): Promise<BundledPackage[]> {
  const byFolder = Map.groupBy(taken, ({ folder }) => folder);
  const all = await Promise.all(
    [...byFolder].map(async ([folder, places]): Promise<BundledPackage> => {
      const manifest = JSON.parse(await readFile(path.join(folder, 'package.json'), 'utf8')) as PackageManifest;
      return { manifest, folder, into: [...new Set(places.map(({ into }) => into))].sort() };
    }),
  );
  return all.sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
}

function keyOf({ manifest: { name, version } }: BundledPackage): string {
  return `${name}@${version}`;
}

const rule = '-'.repeat(80);

/** The texts that go with what is shipped. The same text is written once, for all packages that it goes with. */
export async function noticesOf(packages: readonly BundledPackage[]): Promise<string> {
  const heads: string[] = [];
  const byText = new Map<string, string[]>();
  for (const one of packages) {
    const { manifest, folder, into } = one;
    heads.push(`${keyOf(one)}: ${licenceOf(manifest) ?? 'unknown'}; in ${into.join(', ')}`);
    for (const text of await licenceTexts(folder, manifest))
      byText.set(text, [...(byText.get(text) ?? []), keyOf(one)]);
  }
  const texts = [...byText].map(([text, names]) => `${rule}\n${names.join(', ')}\n${rule}\n\n${text}\n`);
  return [
    'Storypole is under the licence in LICENSE. These packages by others are in it, whole or in part, under these licences.',
    `${heads.join('\n')}\n`,
    ...texts,
  ].join('\n\n');
}

/** A bill of materials in CycloneDX: the same packages give the same text. `version` and `name` are of what is shipped. */
export async function billOfMaterials(
  own: PackageManifest,
  packages: readonly BundledPackage[],
  integrityOf: (manifest: PackageManifest) => string | undefined,
): Promise<string> {
  // Needed for this alone, and not for a build.
  const { Enums, Models, Serialize, Spec } = await import('@cyclonedx/cyclonedx-library');
  const { PackageURL } = await import('packageurl-js');
  const component = (type: 'application' | 'library', manifest: PackageManifest) => {
    const { name, version, description } = manifest;
    const [group, short] = name.startsWith('@') ? (name.split('/') as [string, string]) : [undefined, name];
    const purl = new PackageURL('npm', group, short, version).toString();
    const made = new Models.Component(type as never, short, {
      bomRef: `${name}@${version}`,
      ...(group !== undefined && { group }),
      version,
      purl,
      ...(description !== undefined && { description }),
    });
    const licence = licenceOf(manifest);
    if (licence !== undefined) {
      const isOne = /^[\w.-]+$/.test(licence);
      made.licenses.add(isOne ? new Models.SpdxLicense(licence) : new Models.LicenseExpression(licence));
    }
    return made;
  };
  const bom = new Models.Bom();
  const root = component('application', own);
  bom.metadata.component = root;
  for (const { manifest, into } of packages) {
    const made = component('library', manifest);
    const integrity = integrityOf(manifest);
    if (integrity?.startsWith('sha512-')) {
      const hash = Buffer.from(integrity.slice('sha512-'.length), 'base64').toString('hex');
      made.hashes.set(Enums.HashAlgorithm['SHA-512'], hash);
    }
    for (const file of into) made.properties.add(new Models.Property('storypole:bundled-into', `dist/${file}`));
    bom.components.add(made);
    root.dependencies.add(made.bomRef);
  }
  const write = (): string =>
    `${new Serialize.JsonSerializer(new Serialize.JSON.Normalize.Factory(Spec.Spec1dot6)).serialize(bom, { sortLists: true, space: 2 })}\n`;
  // A number of its own for each list that differs, and no other: what is made twice is the same twice.
  bom.serialNumber = serialOf(write());
  return write();
}

/** A UUID of version 8 (RFC 9562, section 5.8), whose bits are those of a hash of the text. */
function serialOf(text: string): string {
  const hex = createHash('sha256').update(text).digest('hex').slice(0, 32).split('');
  hex[12] = '8';
  hex[16] = '89ab'[Number.parseInt(hex[16] as string, 16) % 4] as string;
  const all = hex.join('');
  const parts = [all.slice(0, 8), all.slice(8, 12), all.slice(12, 16), all.slice(16, 20), all.slice(20)];
  return `urn:uuid:${parts.join('-')}`;
}
