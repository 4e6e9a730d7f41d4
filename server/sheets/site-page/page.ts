/**
 * The page that goes to site: one file that asks for nothing, with everything of a unit, a floor or a project. Of many
 * units each layout is in it once, compressed, and only that of the unit that is open is drawn.
 */

import type { Unit } from '../../model/project.ts';
import { cautions } from '../cautions.ts';
import type { Drawable } from '../drawing/drawable.ts';
import { builtFrom } from '../drawing/drawings.ts';
import { producer } from '../mark.ts';
import { naming, noMoreThan } from '../too-much.ts';
import { json, text } from './html.ts';
import type { PageData, UnitEntry } from './in-page/data.ts';
import { pageStyle } from './style.ts';
import { drawingStyle, unitSheet } from './unit-sheet.ts';

export interface SiteUnit {
  readonly unit: Unit;
  /** Undefined where nothing says what it looks like. */
  readonly drawable: Drawable | undefined;
}

export interface SitePage {
  readonly title: string;
  readonly part: string | undefined;
  readonly revision: string | undefined;
  readonly date: string;
  readonly system: 'inches' | 'millimetres';
  /** There are errors in the project. */
  readonly hasErrors: boolean;
  /** Asked for one after the other, so that not all are in hand. */
  readonly units: Iterable<SiteUnit>;
  /** What runs in the page. */
  readonly script: string;
}

/** Throws TooMuch where it would take more than one page is to; a test has it take less. */
export async function sitePage(page: SitePage, most?: number): Promise<string> {
  const sheets: string[] = [];
  const known = new Map<string, number>();
  const ids = new Map<object, number>();
  const idOf = (of: object): number => {
    const id = ids.get(of) ?? ids.size;
    ids.set(of, id);
    return id;
  };
  const entries: UnitEntry[] = [];
  let size = 0;
  for (const { unit, drawable } of page.units) {
    let sheet = -1;
    if (drawable) {
      const found = drawable.findings.map(({ severity, message }) => `${severity} ${message}`).join('\n');
      const key = `${idOf(drawable.layout)} ${idOf(unit.policy)} ${found}`;
      sheet = known.get(key) ?? -1;
      if (sheet < 0) {
        const made = naming(`Unit "${unit.name}"`, () => unitSheet(drawable, unit));
        size += made.length;
        noMoreThan('largestSitePage', size, tooLarge, most);
        sheet = sheets.push(made) - 1;
        known.set(key, sheet);
      }
    }
    entries.push({
      name: unit.name,
      built: builtFrom(unit),
      floor: unit.floor ?? '',
      flat: unit.flat ?? '',
      phase: unit.phase ?? '',
      count: unit.count,
      sheet,
      wrong: drawable?.findings.some(({ severity }) => severity === 'error') ?? true,
    });
  }
  const data: PageData = {
    title: page.title,
    revision:
      page.revision !== undefined && !page.revision.endsWith('+') ? page.revision : await digestOf(sheets, entries),
    system: page.system,
    date: page.date,
    units: entries,
  };
  return written(page, data, sheets);
}

function tooLarge(_: string, most: string): { what: string } {
  return {
    what: `The layouts of these units take more than ${most} characters, the most that one page for the site holds.`,
  };
}

async function written(page: SitePage, data: PageData, sheets: readonly string[]): Promise<string> {
  const style = pageStyle(drawingStyle());
  const { title, script, revision, date, part, hasErrors } = page;
  const [only, ...others] = data.units;
  const single = only && others.length === 0 ? only : undefined;
  const policy = `default-src 'none'; script-src '${await hashOf(script)}'; style-src '${await hashOf(style)}'; base-uri 'none'; form-action 'none'`;
  const issue = [
    `Project ${title}`,
    ...(part === undefined ? [] : [part]),
    `revision ${revision ?? 'not in git'}`,
    date,
  ];
  const packed = single ? [] : await Promise.all(sheets.map(compressed));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="generator" content="${producer}">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="format-detection" content="telephone=no">
<title>${text(single ? `${single.name}, ${title}` : title)}</title>
<style>${style}</style>
</head>
<body>
<header>
${hasErrors ? `<p class="banner" role="note">Do not cut by this yet: there are errors in the project, and what they concern is missing or may be wrong.</p>` : ''}
<p class="facts">${text(issue.join(' · '))}</p>
<p class="banner" id="no-storage" hidden>This browser keeps nothing for this page: what you tick and note is gone when it is closed. Save it as a table before.</p>
</header>
<nav id="list" aria-label="Units"${single ? ' hidden' : ''}>
<h1 tabindex="-1">${text(title)}</h1>
<div class="search"><label>Search <input type="search" id="search" autocomplete="off"></label></div>
<p id="count" aria-live="polite"></p>
<div id="floors"></div>
</nav>
<noscript><p class="banner">${single ? 'Scripts are off in this browser: boxes can be ticked, and nothing is kept.' : 'The list of units needs scripts, which are off in this browser. A page of one unit can be read without: storypole export --html --unit NAME.'}</p></noscript>
<main id="unit"${single ? '' : ' hidden'}>
<a class="button" id="back" href="#"${single ? ' hidden' : ''}>All units</a>
<h1 id="name" tabindex="-1">${single ? text(single.name) : ''}</h1>
<p class="facts" id="facts">${single ? text(factsOf(single)) : ''}</p>
<p class="banner" id="wrong"${single?.wrong ? '' : ' hidden'}>Errors in this unit: do not cut by it.</p>
<div class="jump" id="jump"></div>
<section id="cautions"><h2>Before you begin</h2>
<ul class="cautions">${cautions.map((one) => `<li>${text(one)}</li>`).join('')}<li>Where this page and the wall differ, stop and ask. It names the rules and numbers it was made by; local codes and those licensed for the work come first.</li></ul></section>
<button type="button" id="whole" aria-pressed="false">Whole drawings</button>
<div id="sheet">${single ? (sheets[single.sheet] ?? '<p>Nothing says what this unit looks like: its template is not known.</p>') : ''}</div>
</main>
<section class="out" id="out"><h2>Hand it back</h2>
<p>What was ticked and noted stays in this browser alone. Nothing is sent.</p>
<button type="button" id="save-survey">Save what was measured (CSV)</button>
<button type="button" id="save-checks">Save final checks (CSV)</button>
<button type="button" id="write-survey">Write it as surveys</button>
<p id="told" role="status"></p>
<label id="surveys-label" hidden>Surveys, to be pasted into a .closet file <textarea id="surveys" readonly spellcheck="false"></textarea></label>
<button type="button" id="clear">Forget this unit's boxes and notes</button>
</section>
<script type="application/json" id="data">${json(data)}</script>
${packed.map((sheet, i) => `<script type="text/plain" id="sheet-${i}">${sheet}</script>`).join('\n')}
<script>${script}</script>
</body>
</html>
`;
}

/** `reach-in, mirrored · floor 1 · flat A-101`. */
export function factsOf({ built, floor, flat, phase, count }: UnitEntry): string {
  return [
    built,
    ...(floor === '' ? [] : [`floor ${floor}`]),
    ...(flat === '' ? [] : [`flat ${flat}`]),
    ...(phase === '' ? [] : [`phase ${phase}`]),
    ...(count === 1 ? [] : [`${count} alike`]),
  ].join(' · ');
}

/** For the policy of the page. */
async function hashOf(source: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(source));
  return `sha256-${base64(new Uint8Array(digest))}`;
}

/** What stands for a revision where the texts are in none: what was ticked belongs to what was shown. */
async function digestOf(sheets: readonly string[], entries: readonly UnitEntry[]): Promise<string> {
  const all = new TextEncoder().encode(`${JSON.stringify(entries)}${sheets.join('')}`);
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', all));
  return [...digest.subarray(0, 6)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Deflated, as base64: an eighth of the markup, and no letter in it that means anything to HTML. */
async function compressed(markup: string): Promise<string> {
  const stream = new Blob([markup]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  return base64(new Uint8Array(await new Response(stream).arrayBuffer()));
}

function base64(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('base64');
}
