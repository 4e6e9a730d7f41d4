/** How far the cutting plan is, among the language's entries of the status bar: current, or being made anew. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, NotificationType } from 'vscode-languageclient';
import { asWords } from './shown.ts';

interface PlanStatus {
  state: 'planning' | 'current' | 'none' | 'failed';
  /** The figures of the last plan in a few words; may be empty. */
  text: string;
  /** Of one that failed: a sentence. */
  why?: string;
}

const planStatusNotification = new NotificationType<PlanStatus>('storypole/planStatus');

/** Registers the entry. Everything registered ends with the returned handle. */
export function registerPlanStatus(client: BaseLanguageClient): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('storypole.plan', { language: 'closet' });
  item.name = 'Cutting plan';
  item.text = 'Cutting plan';
  const heard = client.onNotification(planStatusNotification, ({ state, text, why = '' }) => {
    const { Information, Warning } = vscode.LanguageStatusSeverity;
    item.severity = state === 'failed' ? Warning : Information;
    item.busy = state === 'planning';
    item.text = text === '' ? 'Cutting plan' : `Cutting plan: ${asWords(text)}`;
    item.detail =
      state === 'planning'
        ? 'A new plan is being made; what is shown of it is of the plan before the last edit.'
        : state === 'current'
          ? 'The plan of what is written now.'
          : state === 'failed'
            ? `What is written now could not be planned; it is tried again after the next change of what is cut. ${why}`
            : 'Nothing is to be cut.';
  });
  return vscode.Disposable.from(item, heard);
}
