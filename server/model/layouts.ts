/** The layouts of units and of templates at the ends of their ranges, each made once, and what is found in them. */
import type { Statement } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import type { Layout } from './layout.ts';
import type { PolicyInForce } from './materials.ts';
import { memo } from './memo.ts';
import type { Declared, Names } from './names.ts';
import { childrenOf } from './reading.ts';
import type { ProjectSettings } from './settings.ts';
import type { Show } from './show.ts';
import type { Trace } from './trace.ts';
import { type Given, type Resolved, resolveUnit, type TemplateInfo, templateInfo } from './unit.ts';
import { valueKey } from './values.ts';

export interface LayoutsOptions {
  readonly names: Names;
  /** As they are now. */
  readonly settings: () => ProjectSettings;
  /** The checks of a unit's geometry. */
  readonly check: (layout: Layout, policy: PolicyInForce, show: Show) => Finding[];
  /** Findings as a policy treats them. */
  readonly treat: (findings: readonly Finding[], policy: PolicyInForce) => Finding[];
  /** A layout of a unit had to be made. */
  readonly onResolved: () => void;
}

/** What a layout rests on. `unit` is there for what only that unit says. */
export interface LayoutInput {
  readonly info: TemplateInfo;
  readonly values: Given['values'];
  readonly mirrored: boolean;
  readonly unit?: Declared;
  readonly survey?: Declared | undefined;
}

/** What is found in a layout rests on the policy in force as well: it is kept as long as both are there. */
type Judged = WeakMap<Resolved, WeakMap<PolicyInForce, readonly Finding[]>>;

/** At least so many layouts are kept beside those in use: of what is typed and taken back again. */
const few = 32;

export class Layouts {
  private readonly options: LayoutsOptions;
  private readonly templates = new Map<Statement, TemplateInfo>();
  private readonly made = new Map<string, Resolved>();
  /** When there are more, those that nothing rests on any more are let go. */
  private most = few;
  private readonly checks: Judged = new WeakMap();
  /** With what was found while it was resolved, as the policy treats it. */
  private readonly all: Judged = new WeakMap();
  private readonly ids = new WeakMap<Statement, number>();
  private nextId = 1;

  constructor(options: LayoutsOptions) {
    this.options = options;
  }

  /** Under settings that units rest on, or with other names in libraries, everything is made anew. */
  clear(): void {
    this.made.clear();
    this.templates.clear();
  }

  /** How many are kept. */
  get size(): number {
    return this.made.size;
  }

  /** A statement is not there any more. */
  remove(statement: Statement): void {
    this.templates.delete(statement);
  }

  /**
   * Every version of a template that was typed leaves its layouts behind, with all that was computed of them. To look
   * for those goes through everything that is declared, some hundred for each layout that was made since: less than
   * making them took.
   */
  forgetUnused(declared: ReadonlyMap<Statement, unknown>, used: () => ReadonlySet<Resolved>): void {
    if (this.made.size <= this.most) return;
    const kept = used();
    for (const [key, resolved] of this.made) if (!kept.has(resolved)) this.made.delete(key);
    for (const statement of this.templates.keys()) if (!declared.has(statement)) this.templates.delete(statement);
    this.most = this.made.size + Math.max(few, declared.size >> 8);
  }

  templateOf(template: Declared, trace: Trace): TemplateInfo {
    let info = this.templates.get(template.statement);
    if (!info?.trace.stillHolds()) {
      info = templateInfo(template);
      this.templates.set(template.statement, info);
    }
    trace.take(info.trace);
    return info;
  }

  /** Equal inputs are resolved once. Overrides and surveys are a unit's own, so those are not shared. */
  of({ info, values, mirrored, unit, survey }: LayoutInput): Resolved {
    const overrides = unit ? childrenOf(unit.reading, 'override') : [];
    const own = unit && (overrides.length > 0 || survey !== undefined);
    const ownKey = own ? `${this.idOf(unit.statement)} ${survey ? this.idOf(survey.statement) : ''}` : '';
    const shared = [...values].map(([name, value]) => `${name}=${valueKey(value)}`).join(';');
    const key = `${this.idOf(info.declared.statement)} ${mirrored} ${ownKey} ${shared}`;
    const known = this.made.get(key);
    if (known?.trace.stillHolds()) return known;
    const { names, onResolved } = this.options;
    const settings = this.options.settings();
    const resolved = resolveUnit({ info, values, mirrored, overrides, survey, settings, names });
    this.made.set(key, resolved);
    if (unit) onResolved();
    return resolved;
  }

  /** What the checks find in it. */
  checked(resolved: Resolved, policy: PolicyInForce): readonly Finding[] {
    const { check, settings } = this.options;
    return judged(this.checks, resolved, policy, () => check(resolved.layout, policy, settings().show));
  }

  /** The same, with what was found while it was resolved. Units that are alike share one list. */
  found(resolved: Resolved, policy: PolicyInForce): readonly Finding[] {
    const checked = this.checked(resolved, policy);
    if (resolved.findings.length === 0) return checked;
    return judged(this.all, resolved, policy, () => [...this.options.treat(resolved.findings, policy), ...checked]);
  }

  private idOf(statement: Statement): number {
    return memo(this.ids, statement, () => this.nextId++);
  }
}

function judged(known: Judged, resolved: Resolved, policy: PolicyInForce, judge: () => readonly Finding[]) {
  const byPolicy = memo(known, resolved, () => new WeakMap<PolicyInForce, readonly Finding[]>());
  return memo(byPolicy, policy, judge);
}
