/** The page of the drawing: shows what the extension sends, and tells what is wanted of it. Decides nothing about closets. */
import { lookFrom, whole } from './look.ts';
import type { DrawingShown, FromPage, Kept, PartShown, ToPage } from './messages.ts';
import { createSheet, type Stop } from './sheet.ts';

declare function acquireVsCodeApi(): {
  postMessage(message: FromPage): void;
  getState(): unknown;
  setState(state: unknown): void;
};

const editor = acquireVsCodeApi();
const say = (message: FromPage): void => editor.postMessage(message);

function element<T extends HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no #${id}`);
  return found as T;
}

const [title, about, banner, problem] = ['title', 'about', 'banner', 'problem'].map((id) => element(id)) as [
  HTMLElement,
  HTMLElement,
  HTMLElement,
  HTMLElement,
];
const picker = element<HTMLSelectElement>('view');
const holder = element('sheet');
const details = element('details');
const status = element('status');

const state = (editor.getState() ?? {}) as { look?: unknown; shown?: unknown };
let look = lookFrom(state.look);
/** Which view of which unit it is that is looked at; another one is looked at as a whole. */
let shown = typeof state.shown === 'string' ? state.shown : undefined;
let kept: Kept | undefined;
let drawing: DrawingShown | undefined;
let looked: Stop | undefined;

const sheet = createSheet(holder, {
  onGo(stop) {
    const [number, ...others] = stop.numbers;
    if (stop.part) say({ kind: 'part', key: stop.part.key });
    else if (number !== undefined && others.length === 0) say({ kind: 'finding', number });
    else if (number !== undefined) document.getElementById(`finding-${number}`)?.focus();
  },
  onLook(stop) {
    if (stop === looked) return;
    looked = stop;
    showDetails();
  },
  onBack: () => say({ kind: 'back' }),
  onMove(next) {
    look = next;
    keep();
  },
});

function keep(): void {
  if (kept) editor.setState({ ...kept, look, shown });
}

window.addEventListener('message', ({ data }: MessageEvent<ToPage>) => {
  if (data.kind === 'drawing') {
    kept = data.kept;
    showDrawing(data.drawing);
  } else if (data.kind === 'nothing') showNothing(data.text);
});

function showNothing(text: string): void {
  drawing = undefined;
  title.textContent = 'Drawing';
  about.textContent = '';
  put(problem, text);
  put(banner, undefined);
  picker.replaceChildren();
  picker.disabled = true;
  holder.classList.add('is-empty');
  sheet.show(undefined, []);
  showLists();
  say({ kind: 'shown', outlined: [] });
}

function showDrawing(next: DrawingShown): void {
  const id = `${next.unit.kind} ${next.unit.name} ${next.view ?? ''}`;
  drawing = next;
  const { unit, sheet: picture } = next;
  title.textContent = unit.name;
  about.textContent = [
    ...(picture ? [`${picture.title}.`] : []),
    ...(unit.where === '' ? [] : [unit.where]),
    ...(unit.isHere ? [] : ['The cursor is elsewhere.']),
  ].join(' ');
  put(banner, next.banner);
  put(problem, next.problem);
  showViews(next);
  holder.classList.toggle('is-empty', !picture);
  sheet.show(picture, next.parts);
  if (id !== shown) {
    look = whole;
    status.textContent = `${unit.name}. ${about.textContent}`;
  }
  shown = id;
  sheet.look(look);
  const outlined = sheet.outline(next.current);
  looked = undefined;
  showLists();
  keep();
  say({ kind: 'shown', ...(picture && { revision: picture.revision }), outlined });
}

function put(place: HTMLElement, text: string | undefined): void {
  place.hidden = text === undefined;
  if (place.textContent !== (text ?? '')) place.textContent = text ?? '';
}

const groups = { elevation: 'Walls', plan: 'Plan', section: 'Sections' } as const;

function showViews({ views, view, follows }: DrawingShown): void {
  const wanted = ['', ...views.map(({ id }) => id)].join('\n');
  const value = follows ? '' : (view ?? '');
  if (picker.dataset.views !== wanted) {
    const follow = option('', 'Wall at the cursor');
    const all = (Object.keys(groups) as (keyof typeof groups)[]).flatMap((kind) => {
      const own = views.filter((one) => one.kind === kind);
      if (own.length === 0) return [];
      const group = document.createElement('optgroup');
      group.label = groups[kind];
      group.append(...own.map(({ id, title: text }) => option(id, text)));
      return [group];
    });
    picker.replaceChildren(follow, ...all);
    picker.dataset.views = wanted;
  }
  picker.disabled = views.length === 0;
  picker.value = value;
}

function option(value: string, text: string): HTMLOptionElement {
  const made = document.createElement('option');
  made.value = value;
  made.textContent = text;
  return made;
}

/** Of what the pointer or the keyboard is on; else of what the cursor is in. */
function showDetails(): void {
  const current = drawing?.parts.filter(({ key }) => drawing?.current.includes(key)) ?? [];
  const part = looked?.part ?? (looked ? undefined : current[0]);
  if (looked && !looked.part) {
    details.replaceChildren(
      ...looked.numbers.flatMap((number) => {
        const finding = drawing?.findings.find((one) => one.number === number);
        return finding ? [line('p', `${number}. ${finding.message}`)] : [];
      }),
    );
  } else if (part) details.replaceChildren(...partDetails(part, looked ? 1 : current.length));
  else details.replaceChildren(line('p', drawing ? 'Point at a part, or go to one with Tab, to read about it.' : ''));
  for (const old of holder.querySelectorAll('[aria-describedby]')) old.removeAttribute('aria-describedby');
  looked?.element.setAttribute('aria-describedby', 'details');
}

function partDetails({ label, facts, steps, findings }: PartShown, count: number): HTMLElement[] {
  const list = document.createElement('ul');
  list.append(...facts.map((fact) => line('li', fact)));
  const found =
    findings.length === 0
      ? []
      : [line('li', `${findings.length === 1 ? 'finding' : 'findings'} ${findings.join(', ')}`)];
  list.append(...found);
  const heading = line('h2', count > 1 ? `${label}, and ${count - 1} more of this statement` : label);
  return steps.length === 0 ? [heading, list] : [heading, list, stepsTable(steps)];
}

function stepsTable(steps: PartShown['steps']): HTMLElement {
  const table = document.createElement('table');
  table.setAttribute('aria-label', 'How its length came about');
  for (const { amount, what } of steps) {
    const row = table.insertRow();
    row.insertCell().textContent = amount;
    row.insertCell().textContent = what;
  }
  return table;
}

function showLists(): void {
  showDetails();
  const findings = (drawing?.findings ?? []).map(({ number, severity, message }) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.id = `finding-${number}`;
    button.dataset.severity = severity;
    button.append(line('span', String(number), 'number'), line('span', severity, 'severity'), line('span', message));
    button.addEventListener('click', () => say({ kind: 'finding', number }));
    return button;
  });
  list('findings', 'Findings', findings);
  list(
    'slack',
    'Loose',
    (drawing?.slack ?? []).map((text) => line('span', text)),
  );
  list(
    'legend',
    'In the drawing',
    (drawing?.sheet?.key ?? []).map(({ number, text }) => line('span', `${number}: ${text}`)),
  );
}

/** Whoever is on an item of a list goes on being on it. */
function list(id: string, heading: string, items: readonly HTMLElement[]): void {
  const section = element(id);
  const focused = section.contains(document.activeElement) ? document.activeElement?.id : undefined;
  section.hidden = items.length === 0;
  const all = document.createElement('ul');
  for (const item of items) {
    const row = document.createElement('li');
    row.append(item);
    all.append(row);
  }
  section.replaceChildren(line('h2', heading), all);
  if (focused) document.getElementById(focused)?.focus();
}

function line(name: string, text: string, kind?: string): HTMLElement {
  const made = document.createElement(name);
  made.textContent = text;
  // Names may be written from right to left; the words around them are not.
  made.dir = 'auto';
  if (kind !== undefined) made.className = kind;
  return made;
}

picker.addEventListener('change', () => say({ kind: 'view', ...(picker.value !== '' && { view: picker.value }) }));
element('in').addEventListener('click', () => sheet.zoom(1.25));
element('out').addEventListener('click', () => sheet.zoom(0.8));
element('fit').addEventListener('click', () => sheet.zoom(0));
element('save').addEventListener('click', () => say({ kind: 'save' }));
element('print').addEventListener('click', () => say({ kind: 'print' }));
document.addEventListener('keydown', (event) => {
  if (event.key === 'Escape' && !event.defaultPrevented) say({ kind: 'back' });
});

/** Ninety-six pixels of a page are an inch, by CSS Values and Units, section "Absolute lengths". */
const perMillimetre = 96 / 25.4;
let told = '';
let timer: ReturnType<typeof setTimeout> | undefined;

/** In steps, so that a panel that is dragged wider is not drawn anew all the way. */
function tellRoom(): void {
  const [width, height] = [holder.clientWidth, holder.clientHeight].map(
    (side) => Math.round(side / perMillimetre / 10) * 10,
  ) as [number, number];
  if (width <= 0 || height <= 0 || told === `${width} ${height}`) return;
  told = `${width} ${height}`;
  say({ kind: 'room', width, height });
}

new ResizeObserver(() => {
  clearTimeout(timer);
  timer = setTimeout(tellRoom, 100);
}).observe(holder);
tellRoom();
say({ kind: 'ready' });
