/** The policies of a project, and of single units of it, as they are in force together. */
import { nameNotKnown } from './context.ts';
import { type Made, type PolicyName, policyInForce } from './declared.ts';
import type { Finding } from './finding.ts';
import type { PolicyInForce } from './materials.ts';
import type { Names } from './names.ts';
import * as rules from './rules.ts';
import type { ProjectSettings } from './settings.ts';
import type { Trace } from './trace.ts';

export interface PoliciesOptions {
  readonly names: Names;
  /** As they are now. */
  readonly settings: () => ProjectSettings;
  readonly ruleIds: ReadonlySet<string>;
  readonly limitNames: ReadonlySet<string>;
}

export class Policies {
  private readonly options: PoliciesOptions;
  private readonly made = new Map<string, Made<PolicyInForce>>();

  constructor(options: PoliciesOptions) {
    this.options = options;
  }

  /** Under settings that units rest on, or with other names in libraries, everything is made anew. */
  clear(): void {
    this.made.clear();
  }

  /** Those of the project with a unit's own behind them. */
  inForce(own: readonly PolicyName[], trace?: Trace): PolicyInForce {
    const made = this.of(own);
    trace?.take(made.trace);
    return made.value;
  }

  /** What they ask for that cannot be, as they are in force together. */
  contradictions(own: readonly PolicyName[]): readonly Finding[] {
    return this.of(own).findings.filter((f) => f.rule === rules.policiesContradict);
  }

  /** Those that are named and not there. */
  notKnown(named: readonly PolicyName[]): Finding[] {
    const { names } = this.options;
    return named
      .filter(({ name }) => !names.find('policy', name))
      .map(({ path, statement }) => nameNotKnown(path, ['policy'], statement, names));
  }

  private of(own: readonly PolicyName[]): Made<PolicyInForce> {
    const all = [...this.options.settings().policies, ...own];
    const key = all.map((p) => p.name).join(' ');
    const known = this.made.get(key);
    if (known?.trace.stillHolds()) return known;
    const { names, ruleIds, limitNames } = this.options;
    const made = policyInForce(all, names, { rules: ruleIds, limits: limitNames });
    this.made.set(key, made);
    return made;
  }
}
