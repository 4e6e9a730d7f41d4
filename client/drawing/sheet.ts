/** The drawing itself: what is seen of it, which parts are outlined, how they are reached by keys and by the pointer. */
import { adopted } from './adopt.ts';
import { type Box, bounded, boxOf, type Look, panned, type Size, showing, whole, zoomed } from './look.ts';
import type { PartShown, SheetShown } from './messages.ts';

/** What stands in the drawing and can be reached: a part, or the mark of findings. */
export interface Stop {
  element: SVGGElement;
  part: PartShown | undefined;
  /** Of a mark: the numbers in it. */
  numbers: number[];
}

export interface SheetEvents {
  /** A part or a mark was clicked, or Enter was pressed on it. */
  onGo(stop: Stop): void;
  /** The pointer or the keyboard is on one; undefined: on none any more. */
  onLook(stop: Stop | undefined): void;
  onBack(): void;
  onMove(look: Look): void;
}

export interface Sheet {
  /** Takes a picture, or keeps the one that it has where none is given. */
  show(sheet: SheetShown | undefined, parts: readonly PartShown[]): void;
  /** Answers the keys that are there to be outlined. */
  outline(keys: readonly string[]): string[];
  look(look: Look): void;
  zoom(times: number): void;
}

const svgNamespace = 'http://www.w3.org/2000/svg';

export function createSheet(holder: HTMLElement, events: SheetEvents): Sheet {
  let svg: SVGSVGElement | undefined;
  let size: Size = { width: 1, height: 1 };
  let seen: Look = whole;
  let stops: Stop[] = [];
  let byElement = new Map<Element, Stop>();
  /** The part that Tab comes to from outside. */
  let entry = 0;
  let hovered: Stop | undefined;
  let dragged: { x: number; y: number; look: Look; isMoved: boolean } | undefined;

  function look(next: Look): void {
    seen = bounded(next);
    svg?.setAttribute('viewBox', boxOf(seen, size).join(' '));
    holder.classList.toggle('is-zoomed', seen.zoom > 1);
  }

  function move(next: Look): void {
    look(next);
    events.onMove(seen);
  }

  function show(sheet: SheetShown | undefined, parts: readonly PartShown[]): void {
    const focused = byElement.get(document.activeElement as Element);
    if (!sheet) {
      svg?.remove();
      svg = undefined;
    } else if (sheet.svg !== undefined) {
      const fresh = adopted(sheet.svg);
      svg?.remove();
      svg = fresh;
      size = { width: sheet.width, height: sheet.height };
      if (svg) holder.append(svg);
      holder.setAttribute('aria-label', sheet.title);
    }
    stops = svg ? stopsIn(svg, parts) : [];
    byElement = new Map(stops.map((stop) => [stop.element, stop]));
    const again = focused && stops.findIndex((stop) => isSame(stop, focused));
    enter(again === undefined || again < 0 ? Math.min(entry, Math.max(0, stops.length - 1)) : again);
    look(seen);
    // Whoever was on a part goes on being on it, though it has been drawn anew.
    if (focused && again !== undefined && again >= 0) stops[again]?.element.focus({ preventScroll: true });
    else if (focused) holder.focus({ preventScroll: true });
  }

  function enter(at: number): void {
    entry = at;
    for (const [i, { element }] of stops.entries()) element.setAttribute('tabindex', i === at ? '0' : '-1');
  }

  function outline(keys: readonly string[]): string[] {
    const found = stops.filter(({ part }) => part && keys.includes(part.key));
    around('current', found);
    for (const stop of stops) {
      if (found.includes(stop)) stop.element.setAttribute('aria-current', 'true');
      else stop.element.removeAttribute('aria-current');
    }
    return found.flatMap(({ part }) => part?.key ?? []);
  }

  /** A frame around some parts, above everything else. */
  function around(kind: 'current' | 'focus' | 'hover', framed: readonly Stop[]): void {
    for (const old of svg?.querySelectorAll(`.around-${kind}`) ?? []) old.remove();
    for (const { element } of framed) {
      const [left, top, width, height] = boxAround(element);
      const frame = document.createElementNS(svgNamespace, 'rect');
      frame.setAttribute('class', `around around-${kind}`);
      for (const [name, value] of Object.entries({ x: left, y: top, width, height }))
        frame.setAttribute(name, String(value));
      svg?.append(frame);
    }
  }

  function stopAt(target: EventTarget | null): Stop | undefined {
    const group = target instanceof Element ? target.closest('[data-part]') : null;
    if (!group || !svg?.contains(group)) return undefined;
    const path = group.getAttribute('data-part');
    return byElement.get(group) ?? stops.find(({ part }) => part?.path === path);
  }

  function focusOn(at: number): void {
    const stop = stops[at];
    if (!stop) return;
    enter(at);
    stop.element.focus({ preventScroll: true });
  }

  function key(event: KeyboardEvent): void {
    const { key: name, shiftKey, ctrlKey, metaKey, altKey } = event;
    if (ctrlKey || metaKey || altKey) return;
    const at = stops.findIndex(({ element }) => element === document.activeElement);
    const done = (): void => event.preventDefault();
    const stop = stops[at];
    if (name === 'Tab' && stop) {
      const next = at + (shiftKey ? -1 : 1);
      if (!stops[next]) return;
      focusOn(next);
    } else if (name === 'Home' && stops.length > 0) focusOn(0);
    else if (name === 'End' && stops.length > 0) focusOn(stops.length - 1);
    else if ((name === 'Enter' || name === ' ') && stop) events.onGo(stop);
    else if (name === 'Escape') events.onBack();
    else if (name === '+' || name === '=') move(zoomed(seen, 1.25));
    else if (name === '-' || name === '_') move(zoomed(seen, 0.8));
    else if (name === '0') move(whole);
    else {
      const way = ways[name];
      if (!way) return;
      move(panned(seen, way[0], way[1]));
    }
    done();
  }

  /** A point of the page as parts of the drawing's width and height. */
  function pointAt({ clientX, clientY }: MouseEvent): [number, number] | undefined {
    const matrix = svg?.getScreenCTM()?.inverse();
    if (!matrix) return undefined;
    const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(matrix);
    return [x / size.width, y / size.height];
  }

  holder.addEventListener('keydown', key);
  holder.addEventListener('focusin', ({ target }) => {
    const at = stops.findIndex(({ element }) => element === target);
    const stop = stops[at];
    around('focus', stop ? [stop] : []);
    if (!stop) return;
    enter(at);
    move(showing(seen, size, boxAround(stop.element)));
    events.onLook(stop);
  });
  holder.addEventListener('focusout', () => {
    around('focus', []);
    events.onLook(undefined);
  });
  const hover = (stop: Stop | undefined): void => {
    if (stop !== hovered) around('hover', stop ? [stop] : []);
    hovered = stop;
    events.onLook(stop ?? stopOfFocus());
  };
  holder.addEventListener('pointerover', ({ target }) => hover(stopAt(target)));
  holder.addEventListener('pointerleave', () => hover(undefined));
  const stopOfFocus = (): Stop | undefined => byElement.get(document.activeElement as Element);

  holder.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    dragged = { x: event.clientX, y: event.clientY, look: seen, isMoved: false };
  });
  holder.addEventListener('pointermove', (event) => {
    if (!dragged || !svg) return;
    const [dx, dy] = [event.clientX - dragged.x, event.clientY - dragged.y];
    if (!dragged.isMoved && Math.hypot(dx, dy) < 4) return;
    if (!dragged.isMoved) holder.setPointerCapture(event.pointerId);
    dragged.isMoved = true;
    const scale = svg.getScreenCTM()?.a ?? 1;
    const { zoom, x, y } = dragged.look;
    move({ zoom, x: x - dx / scale / size.width, y: y - dy / scale / size.height });
  });
  const release = (): void => {
    // The click that ends a drag comes after this, and is none.
    const ended = dragged;
    setTimeout(() => {
      if (dragged === ended) dragged = undefined;
    });
  };
  holder.addEventListener('pointerup', release);
  holder.addEventListener('pointercancel', release);
  holder.addEventListener('click', (event) => {
    if (dragged?.isMoved) return;
    const stop = stopAt(event.target);
    if (stop) events.onGo(stop);
  });
  holder.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      if (event.ctrlKey || event.metaKey) move(zoomed(seen, Math.exp(-event.deltaY / 200), pointAt(event)));
      else if (event.shiftKey && event.deltaX === 0) move(panned(seen, event.deltaY / 600, 0));
      else move(panned(seen, event.deltaX / 600, event.deltaY / 600));
    },
    { passive: false },
  );
  return { show, outline, look, zoom: (times) => move(times === 0 ? whole : zoomed(seen, times)) };
}

const step = 0.1;
const ways: Readonly<Record<string, readonly [right: number, down: number]>> = {
  ArrowLeft: [-step, 0],
  ArrowRight: [step, 0],
  ArrowUp: [0, -step],
  ArrowDown: [0, step],
};

function isSame(a: Stop, b: Stop): boolean {
  return a.part?.key === b.part?.key && a.numbers.join() === b.numbers.join();
}

function boxAround(element: SVGGElement): Box {
  const { x, y, width, height } = element.getBBox();
  return [x - 1, y - 1, width + 2, height + 2];
}

/** In the order in which they are read: each part, then the marks at it. What is only there to be seen is no button. */
function stopsIn(svg: SVGSVGElement, parts: readonly PartShown[]): Stop[] {
  const groups = [...svg.querySelectorAll<SVGGElement>('g[role="button"]')];
  for (const group of svg.querySelectorAll<SVGGElement>('[tabindex]')) group.removeAttribute('tabindex');
  const isMark = (group: Element): boolean => group.getAttribute('data-layer') === 'findings';
  const stops: Stop[] = [];
  const taken = new Set<Element>();
  const add = (element: SVGGElement, part: PartShown | undefined): void => {
    taken.add(element);
    const text = isMark(element) ? (element.querySelector('text')?.textContent ?? '') : '';
    stops.push({ element, part, numbers: (text.match(/\d+/g) ?? []).map(Number) });
  };
  for (const part of parts) {
    const own = groups.filter((group) => group.getAttribute('data-part') === part.path && !taken.has(group));
    const element = own.find((group) => group.getAttribute('data-layer') === part.layer);
    if (!element) continue;
    add(element, part);
    for (const mark of own.filter(isMark)) add(mark, undefined);
  }
  for (const mark of groups.filter((group) => isMark(group) && !taken.has(group))) add(mark, undefined);
  for (const group of groups) if (!taken.has(group)) group.setAttribute('role', 'img');
  return stops;
}
