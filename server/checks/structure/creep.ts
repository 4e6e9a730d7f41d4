/** Boards and timber go on sagging under what stays on them. Factors on the deflection at once. */
import type { RuleSource } from '../../model/rule.ts';

/**
 * NDS 3.5.2: the deflection in the long run, in the unit of its two parts.
 * @param sustained deflection at once under what stays
 * @param brief deflection under what comes and goes
 * @param factor Kcr, 1.5 for dry seasoned lumber
 */
export function longTerm(sustained: number, brief: number, factor: number): number {
  return factor * sustained + brief;
}

/**
 * EN 1995-1-1, 2.2.3: the final deflection, in the unit of its two parts.
 * @param permanent deflection at once under what is permanent
 * @param variable deflection at once under what varies
 * @param kdef of the material and where it stands
 * @param share psi2, the share of what varies that counts as staying
 */
export function finalDeflection(permanent: number, variable: number, kdef: number, share: number): number {
  return permanent * (1 + kdef) + variable * (1 + share * kdef);
}

export interface CreepFactor {
  readonly material: string;
  /** What the deflection at once is multiplied by where all of the load stays. */
  readonly factor: number;
  readonly source: RuleSource;
}

const nds: RuleSource = {
  kind: 'published',
  document: 'National Design Specification for Wood Construction, as told in the questions and answers of awc.org',
  section: '3.5.2, long-term loading',
  edition: 'edition not stated in the answer',
  seen: true,
};
const mdfInfo: RuleSource = {
  kind: 'published',
  document: 'mdf-info.eu, page on shelves',
  section: 'creep may add up to 50 %',
  edition: 'undated page',
  seen: true,
};
const eurocode = (seen: boolean): RuleSource => ({
  kind: 'published',
  document: 'EN 1995-1-1',
  section: 'table 3.2, kdef, service class 1',
  edition: '2004',
  seen,
});

/** For messages and completion: nothing is multiplied by these unless a policy says so. */
export const creepFactors: readonly CreepFactor[] = [
  { material: 'seasoned lumber, dry', factor: 1.5, source: nds },
  { material: 'unseasoned or wet lumber', factor: 2, source: nds },
  { material: 'MDF shelf', factor: 1.5, source: mdfInfo },
  { material: 'solid timber, indoors', factor: 1.6, source: eurocode(true) },
  { material: 'plywood, indoors', factor: 1.8, source: eurocode(false) },
  { material: 'particleboard, indoors', factor: 3.25, source: eurocode(false) },
  { material: 'MDF, indoors', factor: 3.25, source: eurocode(false) },
];
