/** What install packets are made from. */
import type { Finding } from '../../model/finding.ts';
import type { Unit } from '../../model/project.ts';
import type { Show } from '../../model/show.ts';
import type { Ticks } from '../../model/ticks.ts';
import { type Drawable, drawnLength, type LengthStyle } from '../drawing/drawable.ts';
import type { PaperName } from '../pdf/page.ts';
import type { Boards } from '../shop/boards.ts';

export interface Job {
  /** Of the project. */
  readonly title: string;
  readonly show: Show;
  readonly style: LengthStyle;
  readonly paper: PaperName;
  /** Git commit, where there is one. */
  readonly revision: string | undefined;
  /** Of the sheets: `2026-03-14`. */
  readonly day: string;
  /** The same for what readers of the file are told. */
  readonly date: Date;
  /** Name and version of the tool. */
  readonly creator: string;
  readonly boards: Boards;
  /** There are errors in the project, in the units of these packets or elsewhere. */
  readonly hasErrors: boolean;
}

export interface PacketUnit {
  readonly unit: Unit;
  /** Undefined where nothing says what it looks like. */
  readonly drawable: Drawable | undefined;
  /** In the order of their numbers. */
  readonly findings: readonly Finding[];
}

export type Said = Pick<Job, 'show' | 'style'>;

export function said(length: Ticks, job: Said): string {
  return drawnLength(length, job);
}

/** What lengths are in, where they stand without saying so. */
export function measureText({ style }: Pick<Job, 'style'>): string {
  return style === 'millimetres'
    ? 'lengths in millimetres'
    : style === 'feet'
      ? 'lengths in feet and inches'
      : 'lengths in inches';
}

export function footText(job: Job): string {
  return [job.revision === undefined ? undefined : `revision ${job.revision}`, job.day, measureText(job), job.creator]
    .filter((text) => text !== undefined)
    .join('  ·  ');
}

export function errorsIn(findings: readonly Finding[]): number {
  return findings.filter(({ severity }) => severity === 'error').length;
}

/** On every page of what has errors, and of what rests on a project that has some. */
export function bannerText(errors: number, hasErrors: boolean): string | undefined {
  if (errors > 0)
    return `DO NOT CUT BY THIS SHEET: ${errors === 1 ? '1 error' : `${errors} errors`} in this unit, listed on the cover`;
  return hasErrors ? 'ERRORS ELSEWHERE IN THIS PROJECT: boards may change; look at them before you cut' : undefined;
}
