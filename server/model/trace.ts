/** The names that a result rests on, kept so that an edit reaches only what depends on the names it changed. */
import type { Statement } from '../../grammar/tree.ts';
import { nameChanges } from './name-changes.ts';

/** Where names are looked up: see Names. */
interface NamesByKind {
  find(kind: string, name: string): { readonly statement: Statement } | undefined;
  turnOf(kind: string): number;
}

/** A name that was looked up, and what it meant then. */
export interface LookedUp {
  readonly names: NamesByKind;
  readonly kind: string;
  readonly name: string;
  readonly statement: Statement | undefined;
  /** For a name that was not there, `*`: how often names of its kind had come and gone, since the nearest one was offered. */
  readonly turn?: number;
}

/**
 * Names looked up, by key, and the traces of results that were taken over. Those are shared, not copied: a template's
 * hundred names are written down once for all the units that use it.
 */
export class Trace {
  private readonly own = new Map<string, LookedUp>();
  private readonly taken = new Set<Trace>();
  /** After so many changes of names all of its own meant what they had meant. */
  private heldAfter = -1;

  set(key: string, found: LookedUp): void {
    this.own.set(key, found);
  }

  /** Rests on all that the other rests on as well. The other is complete: it must not be added to any more. */
  take(other: Trace): void {
    if (other.own.size > 0) this.taken.add(other);
    for (const one of other.taken) this.taken.add(one);
  }

  /** As `take`, by copying: for what is small and nobody else's. */
  copy(other: Trace): void {
    for (const { own } of other.parts()) for (const [key, found] of own) this.own.set(key, found);
  }

  /** Itself and those taken over, each once. */
  *parts(): Generator<Trace> {
    yield this;
    yield* this.taken;
  }

  /** Without those of the traces taken over. */
  ownKeys(): Iterable<string> {
    return this.own.keys();
  }

  has(key: string): boolean {
    return this.own.has(key) || [...this.taken].some((one) => one.own.has(key));
  }

  /** Whether these very names were looked up, whatever they meant, without those of the traces taken over. */
  hasSameOwn(other: Trace): boolean {
    if (this.own.size !== other.own.size) return false;
    for (const key of other.own.keys()) if (!this.own.has(key)) return false;
    return true;
  }

  /** What the same names mean to the other, and what the other rests on besides. */
  renew(other: Trace): void {
    for (const [key, found] of other.own) this.own.set(key, found);
    this.taken.clear();
    for (const one of other.taken) this.taken.add(one);
    this.heldAfter = other.heldAfter;
  }

  /** Those taken over. */
  get shared(): ReadonlySet<Trace> {
    return this.taken;
  }

  /** Every name still means what it meant. */
  stillHolds(): boolean {
    for (const part of this.parts()) if (!part.ownHold()) return false;
    return true;
  }

  private ownHold(): boolean {
    if (this.heldAfter === nameChanges()) return true;
    for (const { names, kind, name, statement, turn } of this.own.values()) {
      if (turn !== undefined && turn !== names.turnOf(kind)) return false;
      if (names.find(kind, name)?.statement !== statement) return false;
    }
    this.heldAfter = nameChanges();
    return true;
  }
}

/** Who depends on which names. */
export class Dependents<T extends object> {
  private readonly byName = new Map<string, Set<Trace>>();
  /** Who rests on a trace that may be shared. */
  private readonly sharers = new Map<Trace, Set<T>>();

  /** One that rested on the names of nothing, or of one trace, now rests on those of another, which is nobody else's. Answers the trace to keep for it. */
  move(one: T, from: Trace | undefined, to: Trace): Trace {
    if (!from) {
      for (const part of to.parts()) this.join(part, one);
      return to;
    }
    // Mostly the same names are looked up again, and only what they mean is another thing.
    const isSame = from.hasSameOwn(to);
    if (!isSame) {
      this.join(to, one);
      this.leave(from, one);
    }
    for (const part of to.shared) if (!from.shared.has(part)) this.join(part, one);
    for (const part of from.shared) if (!to.shared.has(part)) this.leave(part, one);
    if (!isSame) return to;
    from.renew(to);
    return from;
  }

  /** One rests on nothing any more. */
  drop(one: T, from: Trace): void {
    for (const part of from.parts()) this.leave(part, one);
  }

  *of(name: string): Generator<T> {
    for (const part of this.byName.get(name) ?? []) yield* this.sharers.get(part) ?? [];
  }

  private join(part: Trace, one: T): void {
    const known = this.sharers.get(part);
    if (known) {
      known.add(one);
      return;
    }
    this.sharers.set(part, new Set([one]));
    for (const name of part.ownKeys()) {
      const those = this.byName.get(name);
      if (those) those.add(part);
      else this.byName.set(name, new Set([part]));
    }
  }

  private leave(part: Trace, one: T): void {
    const known = this.sharers.get(part);
    if (!known?.delete(one) || known.size > 0) return;
    this.sharers.delete(part);
    for (const name of part.ownKeys()) {
      const those = this.byName.get(name);
      those?.delete(part);
      if (those?.size === 0) this.byName.delete(name);
    }
  }
}
