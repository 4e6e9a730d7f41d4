/** The fonts of sheets, from the package that they come in. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fontFiles } from '../../../server/sheets/drawing/fonts.ts';
import { openLettering } from '../../../server/sheets/pdf/lettering.ts';

const folder = join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf');

export const lettering = openLettering({
  plain: readFileSync(join(folder, fontFiles.plain)),
  bold: readFileSync(join(folder, fontFiles.bold)),
});
