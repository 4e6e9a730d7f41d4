/** What the walkthrough ticks off that is no command: a cut length was read, a finding was seen. */
import * as vscode from 'vscode';
import type { Middleware } from 'vscode-languageclient';

/** Says once that something has been done; VS Code remembers it for the walkthrough. */
function once(step: string): () => void {
  let isDone = false;
  return () => {
    if (isDone) return;
    isDone = true;
    void vscode.commands.executeCommand('setContext', `storypole.did.${step}`, true);
  };
}

export function firstSteps(): Middleware {
  const hovered = once('hover');
  const found = once('finding');
  return {
    async provideHover(document, position, token, next) {
      const hover = await next(document, position, token);
      if (hover) hovered();
      return hover;
    },
    handleDiagnostics(uri, diagnostics, next) {
      if (diagnostics.some(({ severity }) => severity <= vscode.DiagnosticSeverity.Warning)) found();
      next(uri, diagnostics);
    },
  };
}
