import { useState } from 'preact/hooks';
import { CheckField, More, numberWords, Segments } from '../../ui';
import { useLimits } from '../../ui/limits';
import { Table } from '../../ui/part';
import { figuresOf } from '../../ui/result/figures';
import { siteWords } from '../../ui/sites';
import { Term } from '../../ui/term';
import type { Result, Visit } from '../../lib/model.gen';
import { hasFigures, type Comparable } from './compare';
import { ForcePlot } from './force-plot';
import { MarkInText, MarkNames } from './plot-parts';
import { barsAt, type Bar } from './strength-bars';
import { useUnintended } from './use-unintended';

/** As many controls as can be told apart on one drawing. */
const most = 3;

interface ForceViewProps {
  readonly visit: Visit;
  readonly result: Result;
  readonly site: string;
  readonly needed: readonly string[];
  readonly controls: readonly Comparable[];
  /** Ids to begin with. */
  readonly first: readonly string[];
}

/** Force available against force needed at one site, drawn and in tables. */
export function ForceView(props: ForceViewProps) {
  const { visit, result, site } = props;
  const limits = useLimits();
  const [even, setEven] = useState(false);
  const [picked, setPicked] = useState<readonly string[] | null>(null);
  const unintended = useUnintended(visit, site);
  const bars = barsAt(figuresOf(result), site, props.needed);
  const drawable = props.controls.filter(hasFigures);
  const ids = picked ?? props.first.filter((id) => drawable.some((one) => one.id === id)).slice(0, most);
  const shown = drawable.filter((one) => ids.includes(one.id));
  const reserves = ['reserve-tight', 'reserve-workable'].map((id) => limits?.get(id)).filter((times) => times !== undefined);
  if (bars.every((bar) => bar.rested === null && bar.tired === null)) return <p>No force was measured at the {siteWords(site)} yet.</p>;
  return (
    <>
      <Segments
        legend="Scale"
        value={even ? 'even' : 'log'}
        onChange={(value) => setEven(value === 'even')}
        options={[
          { value: 'log', label: 'Small forces wide apart' },
          { value: 'even', label: 'Even' },
        ]}
      />
      <ForcePlot bars={bars} controls={shown} reserves={reserves} unintended={unintended} even={even} />
      <MarkNames controls={shown} />
      <p class="field-hint">
        Dark bars: rested. Striped bars: tired. A question mark: not measured. Lines: what a control asks for full command, in full once, in
        dashes and dots {reserves.map((times) => numberWords(times, 1)).join(' and ')} times: the <Term id="reserve">reserve</Term>.{' '}
        {unintended === null ? null : (
          <>
            The diamond is the largest <Term id="unintended-force">force that was not meant</Term>; the short lines are the forces that
            start the chair.
          </>
        )}
      </p>
      <More summary={`Choose up to ${most} controls for the lines`}>
        <fieldset class="group">
          <legend class="unseen">Controls drawn as lines</legend>
          {drawable.map((one) => (
            <CheckField
              key={one.id}
              label={one.name}
              checked={ids.includes(one.id)}
              onChange={(on) => setPicked(on ? [...ids, one.id].slice(-most) : ids.filter((id) => id !== one.id))}
            />
          ))}
        </fieldset>
      </More>
      <BarsTable bars={bars} site={site} unintended={unintended} />
      {shown.length > 0 ? <AskedTable controls={shown} reserves={reserves} /> : null}
    </>
  );
}

function gf(value: number | null): string {
  return value === null ? 'not measured' : `${numberWords(value, 1)} gf`;
}

function BarsTable(props: { readonly bars: readonly Bar[]; readonly site: string; readonly unintended: number | null }) {
  return (
    <Table
      caption={`Force available at the ${siteWords(props.site)}, mean`}
      heads={['Direction', 'Rested', 'Tired', 'Asked of the driver']}
    >
      {props.bars.map((bar) => (
        <tr key={bar.direction}>
          <th scope="row">{bar.direction}</th>
          <td class="num">{gf(bar.rested)}</td>
          <td class="num">{gf(bar.tired)}</td>
          <td>{bar.needed ? 'yes' : 'no'}</td>
        </tr>
      ))}
      <tr>
        <th scope="row">not meant, largest</th>
        <td class="num" colSpan={2}>
          {gf(props.unintended)}
        </td>
        <td>–</td>
      </tr>
    </Table>
  );
}

function AskedTable(props: { readonly controls: readonly Comparable[]; readonly reserves: readonly number[] }) {
  return (
    <Table
      caption="Force that the drawn controls ask for"
      heads={['Control', 'Starts the chair', 'Full command', ...props.reserves.map((times) => `${numberWords(times, 1)} times that`)]}
    >
      {props.controls.map((one, at) => (
        <tr key={one.id}>
          <th scope="row">
            <MarkInText at={at} control={one} /> {one.name}
          </th>
          <td class="num">{one.start > 0 ? gf(one.start) : 'not known'}</td>
          <td class="num">{gf(one.operate)}</td>
          {props.reserves.map((times) => (
            <td key={times} class="num">
              {gf(one.operate * times)}
            </td>
          ))}
        </tr>
      ))}
    </Table>
  );
}
