import { Button, SavedLine, useSave } from '..';
import { bare, headsOf } from '../answer';
import type { VisitView } from '../../lib';
import type { SetupChosen, Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { findItem } from './links';

/** What is asked of the driver's switch: without one nothing of it applies. */
export const ofTheSwitch = ['mnt-swforce', 'mnt-swmiss'] as const;
const reason = 'no switch';

/** Whether everything that is asked of the driver's switch was said not to apply. */
export function saidNoSwitch(visit: Visit): boolean {
  return ofTheSwitch.every((item) => {
    const heads = headsOf(visit, item);
    return heads.length === 1 && heads[0]?.state === 'not-applicable';
  });
}

/** Whether something of the visit shows a switch: then nobody says in passing that there is none. */
export function showsSwitch({ setup, readings }: Visit): boolean {
  return (setup?.stop_press_gf ?? 0) > 0 || readings.some((one) => one.what === 'switch-force' && !one.slip);
}

/** The set-up without the forces of switches; undefined where it has none. */
export function withoutSwitch(setup: Visit['setup']): SetupChosen | undefined {
  if (setup === undefined) return undefined;
  const { ref: _ref, by: _by, at: _at, pos: _pos, switch_press_gf: both, power_press_gf: power, mode_press_gf: mode, ...rest } = setup;
  return (both ?? 0) + (power ?? 0) + (mode ?? 0) > 0 ? rest : undefined;
}

/** Whether a set-up asks for a switch to be pressed. */
export function asksSwitch(setup: SetupChosen): boolean {
  const { switch_press_gf: both = 0, power_press_gf: power = 0, mode_press_gf: mode = 0, stop_press_gf: stop = 0 } = setup;
  return both + power + mode + stop > 0;
}

/** Takes back that there is no switch, where one is asked for or was measured. */
export async function takeBackNoSwitch(visit: Visit): Promise<void> {
  if (saidNoSwitch(visit)) await answerAll(visit, { state: 'not-tested' });
}

async function answerAll(visit: Visit, said: { readonly state: string; readonly reason?: string }): Promise<void> {
  for (const item of ofTheSwitch) {
    const { note } = bare(headsOf(visit, item).at(-1), item);
    await writeVisit(visit, 'answer-given', { item, ...said, ...(note ? { note } : {}) });
  }
}

/** Says in one touch that the driver uses no switch, and takes it back in another. */
export function NoSwitch(props: {
  readonly view: VisitView;
  /** Called when it was said, where a form holds what a switch asks. */
  readonly onSaid?: (() => void) | undefined;
}) {
  const { visit, checklist } = props.view;
  const saver = useSave();
  const role = roleIn(visit.team);
  const may = isOpen(visit) && mayWrite(role, 'answer-given') && mayWrite(role, 'setup-chosen');
  const said = saidNoSwitch(visit);
  if (!may || ofTheSwitch.some((item) => !findItem(checklist, item)?.item.na) || (!said && showsSwitch(visit))) return null;
  const say = async () => {
    if (saver.busy()) return;
    await saver.save(said ? 'taken back: no switch' : 'no switch', async () => {
      await answerAll(visit, said ? { state: 'not-tested' } : { state: 'not-applicable', reason });
      const setup = said ? undefined : withoutSwitch(visit.setup);
      if (setup) await writeVisit(visit, 'setup-chosen', setup);
    });
    if (!said) props.onSaid?.();
  };
  return (
    <>
      <Button pressed={said} onPress={() => void say()}>
        No switch
      </Button>
      {said && showsSwitch(visit) ? (
        <p class="field-hint">A switch was measured or its force is set. If there is one, take “No switch” back.</p>
      ) : null}
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </>
  );
}
