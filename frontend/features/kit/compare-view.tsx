import { numberWords } from '../../ui';
import { classLabel } from '../../ui/control-classes';
import { useLimits } from '../../ui/limits';
import { Table } from '../../ui/part';
import { siteWords } from '../../ui/sites';
import { links } from '../../ui/visit/links';
import { hasFigures, knowsTravel, within, WITHIN_WORDS, type Comparable, type Reach } from './compare';
import { MarkInText, MarkNames } from './plot-parts';
import { ReachPlot } from './reach-plot';
import { sealingWords, yesNo } from './words';

interface CompareProps {
  readonly controls: readonly Comparable[];
  readonly reach: Reach | null;
  /** Names lead to the control in the kit. */
  readonly linked?: boolean | undefined;
}

/** Controls side by side: the drawing, and the same figures in a table. */
export function CompareView(props: CompareProps) {
  const { controls, reach, linked } = props;
  const limits = useLimits();
  const reserves = ['reserve-tight', 'reserve-workable'].map((id) => limits?.get(id)).filter((times) => times !== undefined);
  if (controls.length === 0) return <p>Choose at least one control to compare.</p>;
  return (
    <>
      {controls.some(hasFigures) ? (
        <>
          <ReachPlot controls={controls} reach={reach} reserves={reserves} />
          <MarkNames controls={controls} />
          <p class="field-hint">
            Marks are of measured controls; kinds in general are ranges and have none. Small forces are drawn wide apart.
            {reach
              ? ` The hatched area is what was measured at the ${siteWords(reach.site)}: force in the direction ${reach.forceDirection}${reach.travel === null ? '' : `, travel ${reach.travelDirection}`}, the weakest needed. A mark inside it lies within reach; below a dashed line the force is there as many times as is written on it.`
              : ''}
          </p>
        </>
      ) : null}
      <CompareTable controls={controls} reach={reach} linked={linked} />
    </>
  );
}

function known(value: number, unit: string): string {
  return value > 0 ? `${numberWords(value, 1)} ${unit}` : 'not known';
}

function CompareTable(props: CompareProps) {
  const { controls, reach, linked } = props;
  return (
    <Table
      caption="Controls side by side"
      captionHidden
      heads={[
        'Control',
        'Kind',
        'Starts at',
        'Full command',
        'Travel',
        ...(reach ? [`At the ${siteWords(reach.site)}`] : []),
        'Sealing',
        'Jacks',
        'Helper can use it',
        ...(linked ? ['Measured'] : []),
      ]}
    >
      {controls.map((one, at) => (
        <tr key={one.id}>
          <th scope="row">
            <MarkInText at={at} control={one} />{' '}
            {linked && !one.generic ? (
              <a class="link-row" href={links.kitControl(one.id)}>
                {one.name}
              </a>
            ) : (
              one.name
            )}
          </th>
          <td>{classLabel(one.class)}</td>
          <td class="num">{known(one.start, 'gf')}</td>
          <td class="num">{one.generic ? one.range : known(one.operate, 'gf')}</td>
          <td class="num">{knowsTravel(one) ? `${numberWords(one.travel, 1)} mm` : 'not known'}</td>
          {reach ? <td>{WITHIN_WORDS[within(one, reach)]}</td> : null}
          <td>{one.generic ? '–' : sealingWords(one.sealing)}</td>
          <td>{one.generic ? '–' : jackWords(one)}</td>
          <td>{one.generic ? '–' : yesNo(one.attendant)}</td>
          {linked ? <td>{one.generic ? 'a range of ours, for orientation' : one.measured || 'not said'}</td> : null}
        </tr>
      ))}
    </Table>
  );
}

function jackWords(one: Comparable): string {
  const jacks = [one.powerJack ? 'power' : '', one.modeJack ? 'mode' : ''].filter((jack) => jack !== '');
  return jacks.length === 0 ? 'none' : jacks.join(' and ');
}
