/** What runs in the page: shows the unit that is asked for, keeps what is ticked and noted, and hands it back. */
import type { Kept, PageData, UnitEntry } from './data.ts';
import { lengthWritten } from './reading.ts';
import { storeFor } from './store.ts';
import { csv, readingsOf, surveysOf } from './survey.ts';

function byId<T extends HTMLElement = HTMLElement>(id: string): T {
  return document.getElementById(id) as T;
}

const data = JSON.parse(byId('data').textContent ?? '') as PageData;
const { units, system } = data;
const isSingle = units.length === 1;
const store = storeFor(data, () => window.localStorage);
let open: UnitEntry | undefined;

function start(): void {
  byId('no-storage').hidden = store.isKept;
  if (isSingle) {
    open = units[0];
    fill();
  } else {
    list();
    byId<HTMLInputElement>('search').addEventListener('input', search);
    window.addEventListener('hashchange', () => void go());
    void go();
  }
  byId('sheet').addEventListener('change', noted);
  byId('sheet').addEventListener('input', checkLengths);
  byId('whole').addEventListener('click', whole);
  byId('save-survey').addEventListener('click', saveSurvey);
  byId('save-checks').addEventListener('click', saveChecks);
  byId('write-survey').addEventListener('click', writeSurvey);
  byId('clear').addEventListener('click', forget);
}

// The list of units

function list(): void {
  const floors = Map.groupBy(units, ({ floor }) => floor);
  const parts = [...floors].map(([floor, own]) => {
    const section = document.createElement('section');
    const title = document.createElement('h2');
    title.textContent = floor === '' ? (floors.size > 1 ? 'No floor stated' : 'Units') : `Floor ${floor}`;
    const items = document.createElement('ul');
    items.className = 'units';
    items.append(...own.map(item));
    section.append(title, items);
    return section;
  });
  byId('floors').replaceChildren(...parts);
  search();
}

function item(unit: UnitEntry): HTMLElement {
  const entry = document.createElement('li');
  entry.dataset.words = words(unit);
  const link = document.createElement('a');
  link.href = `#${encodeURIComponent(unit.name)}`;
  const name = document.createElement('b');
  name.textContent = unit.name;
  const facts = document.createElement('small');
  facts.textContent = `${unit.built}${unit.count === 1 ? '' : ` · ${unit.count} alike`}${unit.wrong ? ' · errors' : ''}`;
  link.append(name, facts);
  entry.append(link);
  return entry;
}

function words({ name, built, flat, phase }: UnitEntry): string {
  return `${name} ${built} flat ${flat} phase ${phase}`.toLowerCase();
}

function search(): void {
  const wanted = byId<HTMLInputElement>('search').value.toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const section of byId('floors').children) {
    let any = false;
    for (const entry of section.querySelectorAll('li')) {
      const fits = wanted.every((word) => entry.dataset.words?.includes(word));
      entry.hidden = !fits;
      if (fits) {
        any = true;
        shown++;
      }
    }
    (section as HTMLElement).hidden = !any;
  }
  byId('count').textContent = `${shown} of ${units.length} units`;
}

// The unit that is open

function asked(): UnitEntry | undefined {
  let name = location.hash.slice(1);
  try {
    name = decodeURIComponent(name);
  } catch {
    // Taken as it stands.
  }
  return name === '' ? undefined : units.find((unit) => unit.name === name);
}

async function go(): Promise<void> {
  const unit = asked();
  // A link within the unit that is open.
  if (!unit && location.hash.length > 1 && open) return;
  open = unit;
  byId('list').hidden = unit !== undefined;
  byId('unit').hidden = unit === undefined;
  byId('clear').hidden = unit === undefined;
  if (!unit) {
    byId('sheet').replaceChildren();
    document.title = data.title;
    byId('list').querySelector('h1')?.focus({ preventScroll: true });
    return;
  }
  document.title = `${unit.name}, ${data.title}`;
  byId('name').textContent = unit.name;
  byId('facts').textContent = [
    unit.built,
    unit.floor && `floor ${unit.floor}`,
    unit.flat && `flat ${unit.flat}`,
    unit.phase && `phase ${unit.phase}`,
    unit.count !== 1 && `${unit.count} alike`,
  ]
    .filter(Boolean)
    .join(' · ');
  byId('wrong').hidden = !unit.wrong;
  // Our own markup, made where the page was: every name in it is escaped, and the policy of the page runs no other script.
  byId('sheet').innerHTML =
    unit.sheet < 0
      ? '<p>Nothing says what this unit looks like: its template is not known.</p>'
      : await sheetOf(unit.sheet);
  if (open !== unit) return;
  fill();
  byId('name').focus({ preventScroll: true });
  window.scrollTo(0, 0);
}

async function sheetOf(number: number): Promise<string> {
  const packed = Uint8Array.from(atob(byId(`sheet-${number}`).textContent ?? ''), (c) => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  return new Response(stream).text();
}

/** What was ticked and noted before, and links to the sections there are. */
function fill(): void {
  if (!open) return;
  const { boxes, notes } = store.read(open.name);
  for (const box of boxesShown()) box.checked = boxes[box.dataset.box ?? ''] === true;
  for (const note of notesShown()) {
    const value = notes[note.dataset.note ?? ''];
    if (value !== undefined) note.value = value;
  }
  const links = [...byId('sheet').querySelectorAll('section')].map((section) => {
    const title = section.querySelector('h2');
    const link = document.createElement('a');
    link.href = `#${isSingle ? section.id : ''}`;
    link.textContent = title?.textContent ?? '';
    link.addEventListener('click', (event) => {
      event.preventDefault();
      title?.setAttribute('tabindex', '-1');
      title?.focus();
      section.scrollIntoView();
    });
    return link;
  });
  byId('jump').replaceChildren(...links);
  checkLengths();
}

function boxesShown(): NodeListOf<HTMLInputElement> {
  return byId('sheet').querySelectorAll<HTMLInputElement>('input[data-box]');
}

function notesShown(): NodeListOf<HTMLInputElement> {
  return byId('sheet').querySelectorAll<HTMLInputElement>('input[data-note]');
}

function noted(): void {
  if (!open) return;
  const boxes: Record<string, true> = {};
  const notes: Record<string, string> = {};
  for (const { checked, dataset } of boxesShown()) if (checked) boxes[dataset.box ?? ''] = true;
  for (const { value, defaultValue, dataset } of notesShown()) {
    const key = dataset.note ?? '';
    // A height that nobody changed counts where a length stands beside it.
    const beside = key.startsWith('height ') ? noteNow(`length ${key.slice(7)}`) : '';
    if (value.trim() !== '' && (value !== defaultValue || beside !== '')) notes[key] = value;
  }
  store.write(open.name, { boxes, notes });
  byId('no-storage').hidden = store.isKept;
}

function noteNow(key: string): string {
  for (const { value, dataset } of notesShown()) if (dataset.note === key) return value.trim();
  return '';
}

/** Says beside a reading what cannot be read. */
function checkLengths(): void {
  for (const row of byId('sheet').querySelectorAll<HTMLElement>('.reading')) {
    const wrong = [...row.querySelectorAll('input')].filter((field) => {
      const isWrong = field.value.trim() !== '' && lengthWritten(field.value, system) === undefined;
      field.setAttribute('aria-invalid', String(isWrong));
      return isWrong;
    });
    const said = row.querySelector<HTMLElement>('.wrong');
    if (!said) continue;
    said.hidden = wrong.length === 0;
    said.textContent =
      wrong.length === 0
        ? ''
        : `"${wrong[0]?.value}" is no length. Write for example ${system === 'inches' ? '96-3/16' : '2440.5'}.`;
  }
}

function whole(): void {
  const isWhole = document.body.classList.toggle('whole');
  byId('whole').setAttribute('aria-pressed', String(isWhole));
}

// Handing back

function keptOf(): { readonly unit: UnitEntry; readonly kept: Kept }[] {
  return units.map((unit) => ({ unit, kept: store.read(unit.name) }));
}

function saveSurvey(): void {
  const readings = keptOf().flatMap(({ unit, kept }) => readingsOf(unit.name, kept, system));
  if (readings.length === 0) tell('Nothing was measured yet.');
  else
    save('survey', [
      ['unit', 'wall', 'height', 'length'],
      ...readings.map(({ unit, wall, height, length }) => [unit, wall, height, length]),
    ]);
}

function saveChecks(): void {
  const rows = keptOf().flatMap(({ unit, kept: { boxes, notes } }) => {
    const names = new Set([
      ...Object.keys(boxes).filter((key) => key.startsWith('check ')),
      ...Object.keys(notes).flatMap((key) => (key.startsWith('found check ') ? [key.slice(6)] : [])),
    ]);
    return [...names]
      .sort((a, b) => Number.parseInt(a.slice(6), 10) - Number.parseInt(b.slice(6), 10))
      .map((key) => [
        unit.name,
        key.replace(/^check \d+ /, ''),
        boxes[key] ? 'yes' : 'no',
        notes[`found ${key}`] ?? '',
      ]);
  });
  if (rows.length === 0) tell('No final check was made yet.');
  else save('checks', [['unit', 'check', 'ticked', 'found'], ...rows]);
}

function save(what: string, rows: readonly (readonly string[])[]): void {
  const address = URL.createObjectURL(new Blob([csv(rows)], { type: 'text/csv;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `${what}-${data.title.replace(/[^\p{L}\p{N}]+/gu, '-')}-${today()}.csv`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  tell(`Saved ${rows.length - 1} ${rows.length === 2 ? 'row' : 'rows'} as ${link.download}.`);
}

function writeSurvey(): void {
  const measured = keptOf().map(({ unit, kept }) => ({ unit, readings: readingsOf(unit.name, kept, system) }));
  const written = surveysOf(measured, today());
  byId('surveys-label').hidden = written === '';
  const area = byId<HTMLTextAreaElement>('surveys');
  area.value = written;
  if (written === '') {
    tell('Nothing was measured yet.');
    return;
  }
  area.focus();
  area.select();
  tell('Copy it into a .closet file. It takes the place of a survey that the unit has.');
}

function forget(): void {
  if (!open || !window.confirm(`Forget what was ticked and noted of ${open.name}?`)) return;
  store.forget(open.name);
  for (const box of boxesShown()) box.checked = false;
  for (const note of notesShown()) note.value = note.defaultValue;
  checkLengths();
  tell(`Forgotten: ${open.name}.`);
}

function tell(message: string): void {
  byId('told').textContent = message;
}

function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}

start();
