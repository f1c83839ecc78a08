import { LevelDoor, levelWord } from '../parts';
import { failedGate, gatesByLevel, nextLevel } from './explain';
import type { HrefOf } from './effects';
import { Part, Table } from './part';
import type { Gate, ResultView } from './result';
import type { Titles } from './titles';

/** The first condition that failed and the shortest list of changes to the next level. */
export function WayUp(props: { readonly result: ResultView; readonly titles: Titles; readonly hrefOf: HrefOf }) {
  const { result } = props;
  const next = nextLevel(result.level);
  if (!next) return <Part title="Next level"><p>There is no level above. Keep the recheck date.</p></Part>;
  const failed = failedGate(result);
  return (
    <Part title={`What stands before ${levelWord(next)}`}>
      {failed ? <p class="lead-sentence">{failed.sentence}</p> : null}
      {result.up.length === 0 ? null : (
        <>
          <h3>Shortest way up</h3>
          <ol class="steps">
            {result.up.map((step) => {
              const href = step.item ? props.hrefOf(step.item) : undefined;
              const title = step.item ? props.titles.item(step.item)?.title : undefined;
              return (
                <li key={`${step.item ?? ''} ${step.sentence}`}>
                  {step.sentence}
                  {href && title ? <a class="link-row" href={href}>{title}</a> : null}
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
export function GateTable(props: { readonly result: ResultView }) {
  return (
    <Part title="All conditions">
      <Table caption="Conditions of each level" captionHidden heads={['Level', 'Condition', 'Met']}>
        {gatesByLevel(props.result).flatMap((group) =>
          group.gates.map((gate, at) => <GateRow key={`${gate.level} ${gate.code}`} gate={gate} span={at === 0 ? group.gates.length : 0} />),
        )}
      </Table>
    </Part>
  );
}

function GateRow(props: { readonly gate: Gate; readonly span: number }) {
  const { gate, span } = props;
  return (
    <tr class={gate.met ? 'gate' : 'gate gate-unmet'}>
      {span > 0 ? <th scope="rowgroup" rowSpan={span}><LevelDoor level={gate.level} size="small" /></th> : null}
      <td>{gate.sentence}</td>
      <td class="gate-met">{gate.met ? '✓ met' : '✗ not met'}</td>
    </tr>
  );
}
