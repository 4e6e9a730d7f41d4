/** The files of the fonts of sheets: beside the bundled command, or in the package that they come from. */
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fontFiles } from '../sheets/drawing/fonts.ts';
import { type Lettering, openLettering } from '../sheets/pdf/lettering.ts';
import { Stop } from './stop.ts';

/** Throws Stop where they are not there. */
export function lettering(): Lettering {
  const folder = fontFolder();
  const read = (name: string): Uint8Array => {
    try {
      return readFileSync(join(folder, name));
    } catch {
      throw new Stop(`The font ${name} is missing beside the command, so no PDF can be made: install it again.`);
    }
  };
  return openLettering({ plain: read(fontFiles.plain), bold: read(fontFiles.bold) });
}

function fontFolder(): string {
  const beside = join(import.meta.dirname, 'fonts');
  if (existsSync(beside)) return beside;
  try {
    return join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf');
  } catch {
    return beside;
  }
}
