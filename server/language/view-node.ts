/** What a tree of a project is made of: plain data, and how the children of a branch are had. */
import type { Place } from '../../grammar/tree.ts';
import type { Severity } from '../model/rule.ts';

export type ViewKind =
  | 'project'
  | 'floors'
  | 'floor'
  | 'range'
  | 'unit'
  | 'templates'
  | 'template'
  | 'findings'
  | 'exceptions'
  | 'verdict'
  | 'severity'
  | 'rule'
  | 'finding'
  | 'stock'
  | 'material'
  | 'length';

export interface ViewNode {
  /** Unlike that of any other child of its parent, and the same as long as the thing is there. */
  readonly key: string;
  readonly kind: ViewKind;
  readonly label: string;
  /** Behind the label, in a few words; may be empty. */
  readonly description: string;
  /** All that is said of it, in lines. */
  readonly tooltip: string;
  /** The most severe finding in it, or its own. */
  readonly severity?: Severity | undefined;
  /** Of a finding and of a rule: the rule's id. */
  readonly rule?: string | undefined;
  readonly hasChildren: boolean;
  /** The statement that it is about. */
  readonly place?: Place | undefined;
  /** Of a unit: its template, and what was measured. */
  readonly template?: Place | undefined;
  readonly survey?: Place | undefined;
}

/** A node that knows how its children are made. */
export interface Branch extends Omit<ViewNode, 'hasChildren'> {
  readonly children?: (() => readonly Branch[]) | undefined;
}
