import { ruleBook } from '../checks/analysis.ts';
import { Project } from '../model/project.ts';
import { nextTurn } from './turn.ts';

const text = `project "x" { kerf 1/8in; saw-step 1/16in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock white-12 { length 12ft }
stock chrome { length 12ft }
template t {
  parameter width: length from 20in to 98in
  board white-12
  pole chrome
  wall back { length width; height 96in }
  zone a on back {
    width fill
    shelf s { at 84in }
    rod r { under s by 3in; for shirt }
  }
}
unit u t { floor 1; flat A-1; width 48in }
`;
let done = false;
export function rehearse(): void {
  if (done) return;
  done = true;
  const rounds = Number(process.env.REHEARSE ?? 0);
  if (!rounds) return;
  const p = new Project(ruleBook as never);
  p.setFile('/p/a.closet', text);
  const at = text.indexOf('98in') + 2;
  let bad = false;
  let n = 0;
  const t0 = performance.now();
  const go = () => {
    const until = performance.now() + 5;
    do {
      p.editFile('/p/a.closet', [{ start: at, end: at + 2, text: bad ? 'in' : 'ix' }]);
      bad = !bad;
      p.refreshNow();
      p.findings();
      if (++n > rounds) {
        process.stderr.write(`rehearsed ${(performance.now() - t0).toFixed(0)}\n`);
        return;
      }
    } while (performance.now() < until);
    nextTurn(go);
  };
  setTimeout(go, 20);
}
