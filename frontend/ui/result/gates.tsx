import { LevelDoor, levelWord } from '..';
import { Part, Table } from '../part';
import type { Result } from '../../lib/model.gen';
import { sentenceOf } from '../words';
import type { HrefOf } from './effects';
import { failedGate, gatesByLevel, nextLevel } from './explain';
import type { Titles } from './titles';

/** The first condition that failed and the shortest list of changes to the next level. */
export function WayUp(props: { readonly result: Result; readonly titles: Titles; readonly hrefOf: HrefOf }) {
  const { result } = props;
  const next = nextLevel(result.level);
  if (!next)
    return (
      <Part title="Next level">
        <p>There is no level above. Keep the recheck date.</p>
      </Part>
    );
  const failed = failedGate(result);
  const up = result.up ?? [];
  return (
    <Part title={`What stands before ${levelWord(next)}`}>
      {failed ? <p class="lead-sentence">{sentenceOf(failed.message)}</p> : null}
      {up.length === 0 ? null : (
        <>
          <h3>Shortest way up</h3>
          <ol class="steps">
            {up.map((step) => {
              const href = step.item ? props.hrefOf(step.item) : undefined;
              const title = step.item ? props.titles.item(step.item)?.title : undefined;
              return (
                <li key={`${step.item ?? ''} ${sentenceOf(step.message)}`}>
                  {sentenceOf(step.message)}
                  {href && title ? (
                    <a class="link-row" href={href}>
                      {title}
                    </a>
                  ) : null}
                </li>
              );
            })}
          </ol>
        </>
      )}
    </Part>
  );
}

/** Every condition of every level, in order. */
export function GateTable(props: { readonly result: Result }) {
  return (
    <Part title="All conditions">
      <p class="print-only quiet-line">On paper, only those that are not met.</p>
      {gatesByLevel(props.result).map((group) => (
        <div key={group.level} class="gates">
          <h3>
            <LevelDoor level={group.level} size="small" />
          </h3>
          <Table caption={`Conditions of ${levelWord(group.level)}`} captionHidden heads={['Condition', 'Met']}>
            {group.gates.map((gate) => (
              <tr key={gate.code} class={gate.met ? 'gate' : 'gate gate-unmet'}>
                <td>{sentenceOf(gate.message)}</td>
                <td class="gate-met">{gate.met ? '✓ met' : '✗ not met'}</td>
              </tr>
            ))}
          </Table>
        </div>
      ))}
    </Part>
  );
}
