/**
 * What others let us do with what they wrote. What is shipped is under licences that ask for their text to be kept and for
 * little more; what the project is worked on with may ask for a little more, by name and with a reason.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import satisfies from 'spdx-satisfies';
import { describe, expect, it } from 'vitest';
import { licenceOf, reviewedLicences } from '../../client/licences.ts';
import { type LockedPackage, lockedPackages, root } from './lockfile.ts';

/** By their names in the licence list of SPDX. */
const permissive = [
  ...['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'Apache-2.0', 'BlueOak-1.0.0', 'Zlib'],
  ...['Bitstream-Vera', 'CC0-1.0'],
];

/** Never shipped: it runs where the project is worked on, and nowhere else. */
const onlyHere: readonly { packages: RegExp; licence: string; why: string }[] = [
  {
    packages: /^lightningcss(-|$)/,
    licence: 'MPL-2.0',
    why: 'read by the test runner; its files are used as they are',
  },
  {
    packages: /^(binaryextensions|editions|istextorbinary|textextensions|version-range)$/,
    licence: 'Artistic-2.0',
    why: 'read by the packer of the .vsix; their files are used as they are',
  },
  {
    packages: /^@vscode\/vsce-sign(-|$)/,
    licence: 'SEE LICENSE IN LICENSE.txt',
    why: 'comes with the packer of the .vsix, for signing, which is not done; its install script does not run',
  },
  {
    packages: /^(spdx-exceptions|spdx-ranges)$/,
    licence: 'CC-BY-3.0',
    why: 'the words of the licence list, for this test',
  },
];

function isPermissive(expression: string | undefined): boolean {
  if (expression === undefined) return false;
  try {
    return satisfies(expression, permissive);
  } catch {
    // No expression of SPDX.
    return false;
  }
}

const stated = ({ name, license }: LockedPackage): string | undefined =>
  licenceOf({ name, ...(license !== undefined && { license }) });

const shipped = readFileSync(path.join(root, 'dist/third-party-notices.txt'), 'utf8');
const bundled = [...shipped.matchAll(/^((?:@[^@\s]+\/)?[^@\s]+)@(\d[^:\s]*): (.+?); in (.+)$/gm)].map(
  ([, name = '', version = '', licence = '', into = '']) => ({ name, version, licence, into: into.split(', ') }),
);

describe('the licences', () => {
  it('are permissive for all that is shipped', () => {
    expect(bundled.length).toBeGreaterThan(20);
    expect(bundled.filter(({ licence }) => !isPermissive(licence))).toEqual([]);
    // Nothing is shipped that the lockfile does not know.
    const locked = new Set(lockedPackages.map(({ name, version }) => `${name}@${version}`));
    expect(bundled.filter(({ name, version }) => !locked.has(`${name}@${version}`))).toEqual([]);
  });

  it('are permissive for all that the project is worked on with, but for what is named with a reason', () => {
    const others = lockedPackages.filter((one) => !isPermissive(stated(one)));
    const unnamed = others.filter(
      (one) =>
        !onlyHere.some(({ packages, licence }) => packages.test(one.name) && (stated(one) ?? '').includes(licence)),
    );
    expect(unnamed.map((one) => `${one.name}: ${stated(one)}`)).toEqual([]);
    // A reason for what is not there any more is taken off the list; and none of it is shipped.
    for (const { packages } of onlyHere) {
      expect(
        others.some(({ name }) => packages.test(name)),
        String(packages),
      ).toBe(true);
      expect(bundled.filter(({ name }) => packages.test(name))).toEqual([]);
    }
    for (const name of Object.keys(reviewedLicences)) expect(bundled.map((one) => one.name)).toContain(name);
  });

  it.each([
    ['GPL-3.0-or-later', false],
    ['MIT AND GPL-2.0-only', false],
    ['LGPL-2.1-or-later', false],
    ['AGPL-3.0-only', false],
    ['BUSL-1.1', false],
    ['CC-BY-NC-4.0', false],
    ['SEE LICENSE IN LICENSE.txt', false],
    ['UNLICENSED', false],
    ['', false],
    [undefined, false],
    ['(MIT OR GPL-3.0-or-later)', true],
    ['MIT AND Apache-2.0', true],
    ['ISC', true],
  ])('take %j for permissive: %s', (expression, is) => {
    expect(isPermissive(expression)).toBe(is);
  });
});

describe('the notices that are shipped', () => {
  /** Words that stand in every copy of a licence, whoever wrote it down. source: SPDX licence list */
  const words: Readonly<Record<string, RegExp>> = {
    MIT: /Permission is hereby granted, free of charge/,
    ISC: /Permission to use, copy, modify, and\/or distribute this software/,
    'Apache-2.0': /Apache License\s+Version 2\.0, January 2004/,
    'BlueOak-1.0.0': /Blue Oak Model License/,
    'Bitstream-Vera': /Bitstream Vera Fonts Copyright/,
  };

  it('hold for each package the text of each licence that it is under', () => {
    const sections = shipped.split(/^-{80}\n/m).slice(1);
    const texts: [string[], string][] = [];
    for (let at = 0; at + 1 < sections.length; at += 2)
      texts.push([(sections[at] ?? '').trim().split(', '), sections[at + 1] ?? '']);
    for (const { name, version, licence } of bundled) {
      const own = texts.filter(([names]) => names.includes(`${name}@${version}`)).map(([, text]) => text);
      for (const one of licence.split(' AND ')) {
        const expected = words[one];
        if (!expected) throw new Error(`${name} is under ${one}: write down here what its text says`);
        expect(
          own.some((text) => expected.test(text.replaceAll(/\s+/g, ' '))),
          `${name}: ${one}`,
        ).toBe(true);
      }
      if (/MIT|ISC/.test(licence)) expect(own.join('\n'), name).toMatch(/copyright/i);
    }
  });
});
