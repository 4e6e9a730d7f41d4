/** The lockfile as it is committed. */
import { readFileSync } from 'node:fs';
import path from 'node:path';

export const root = path.resolve(import.meta.dirname, '../..');

export interface Locked {
  readonly version?: string;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly license?: string;
  readonly link?: boolean;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly hasInstallScript?: boolean;
}

export interface LockedPackage extends Locked {
  /** Where it is installed. */
  readonly at: string;
  readonly name: string;
}

export const lockfile = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as {
  readonly lockfileVersion: number;
  readonly packages: Readonly<Record<string, Locked>>;
};

/** All that is installed, as npm sees it; what stands in no folder of ours. */
export const lockedPackages: readonly LockedPackage[] = Object.entries(lockfile.packages)
  .filter(([at]) => at !== '')
  .map(([at, locked]) => ({ ...locked, at, name: at.slice(at.lastIndexOf('node_modules/') + 'node_modules/'.length) }));
