/** The page for the site: what runs in it lies beside the program, as the bundler made it. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LengthStyle } from '../sheets/drawing/drawable.ts';
import { drawableOf } from '../sheets/drawing/drawings.ts';
import { type SiteUnit, sitePage } from '../sheets/site-page/page.ts';
import type { Made } from './export-json.ts';

export function siteFile({ chosen, exported, findings }: Made, style: LengthStyle | undefined): Promise<string> {
  const { title, part, revision, date, lengths } = exported;
  return sitePage({
    title,
    part,
    revision,
    date,
    system: lengths.show.system,
    hasErrors: findings.some(({ finding }) => finding.severity === 'error'),
    units: drawn(),
    script: scriptOf(),
  });

  function* drawn(): Generator<SiteUnit> {
    for (const unit of exported.units)
      yield { unit, drawable: drawableOf(chosen.project, unit, style ?? lengths.style) };
  }
}

const script = 'site-page-web.js';

/** Beside the bundle; or, run as it is written, where the bundler puts it. */
function scriptOf(): string {
  const here = join(import.meta.dirname, script);
  return readFileSync(existsSync(here) ? here : join(import.meta.dirname, '../../dist', script), 'utf8').trim();
}
