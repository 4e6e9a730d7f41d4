/** What the packages are licensed under that are bundled into what is shipped, and the texts that have to go with them. */
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';

/** As much of a package.json as is needed here. */
export interface PackageManifest {
  readonly name: string;
  readonly version: string;
  readonly description?: string;
  readonly license?: string;
  readonly author?: string | { readonly name: string };
  readonly homepage?: string;
  readonly repository?: string | { readonly url: string };
}

interface Reviewed {
  /** What somebody who read the package found it to be licensed under: an expression of SPDX. */
  readonly licence: string;
  readonly why: string;
  /** Texts beside those in the package: files of other packages whose text is that of the licence. */
  readonly texts?: readonly string[];
}

/** Packages that do not say it themselves in an expression of SPDX, or that hold something else as well. */
export const reviewedLicences: Readonly<Record<string, Reviewed>> = {
  'png-js': { licence: 'MIT', why: 'says nothing in its package.json; its LICENSE is the MIT licence' },
  'dejavu-fonts-ttf': {
    licence: 'Bitstream-Vera',
    why: 'refers to its LICENSE: the Bitstream Vera licence, the same words for the glyphs of Arev, changes in the public domain',
  },
  brotli: {
    licence: 'MIT AND Apache-2.0',
    why: 'its decoder is that of Google, under the Apache licence by the heads of its files',
    texts: ['chevrotain/LICENSE.txt'],
  },
};

/** An expression of SPDX; undefined where a package has none and nobody has looked at it. */
export function licenceOf({ name, license }: Pick<PackageManifest, 'name' | 'license'>): string | undefined {
  return reviewedLicences[name]?.licence ?? license;
}

/** Names of files that a licence may ask to be kept with the code. */
const isNotice = /^(licen[cs]e|copying|notice|thirdpartynotices)([.-].*)?$/i;

/** All that has to be shipped with a package, in words. Throws where there is nothing of the kind and the licence asks for it. */
export async function licenceTexts(folder: string, manifest: PackageManifest): Promise<string[]> {
  const own = (await readdir(folder)).filter((file) => isNotice.test(file)).sort();
  const elsewhere = reviewedLicences[manifest.name]?.texts ?? [];
  const modules = folder.slice(0, folder.lastIndexOf('node_modules') + 'node_modules'.length);
  const files = [...own.map((file) => path.join(folder, file)), ...elsewhere.map((file) => path.join(modules, file))];
  const texts = await Promise.all(files.map(async (file) => plain(await readFile(file, 'utf8'))));
  if (own.length > 0) return texts;
  if (manifest.license !== 'MIT') {
    throw new Error(`${manifest.name} is under ${manifest.license} and holds no text of it: its text has to be found.`);
  }
  return [mit(authorOf(manifest)), ...texts];
}

function authorOf({ name, author }: PackageManifest): string {
  const said = typeof author === 'string' ? author : author?.name;
  if (said === undefined) throw new Error(`${name} does not say whose it is: its licence has to be looked up.`);
  return said;
}

/** Lines end alike, and none in spaces. */
function plain(text: string): string {
  return text
    .replaceAll(/\r\n?/g, '\n')
    .replaceAll(/[ \t]+$/gm, '')
    .trim();
}

/** source: SPDX licence list, MIT. For packages that name the licence and leave its words out. */
const mit = (holder: string): string => `MIT License

Copyright (c) ${holder}

Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;
