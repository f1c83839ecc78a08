import { useState } from 'preact/hooks';
import { Banner, ButtonLink, More, Segments, SelectField } from '../../ui';
import { useLimits } from '../../ui/limits';
import { Part, Table } from '../../ui/part';
import { VerdictMark } from '../../ui/result/control';
import { figuresOf } from '../../ui/result/figures';
import { controlOf, ThreeControls } from '../../ui/result/three-controls';
import { siteWords } from '../../ui/sites';
import { sentenceOf } from '../../ui/words';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { directions, type PackedControl, type Result, type Visit } from '../../lib/model.gen';
import { comparable, genericControls, reachOf, type Comparable } from './compare';
import { CompareView } from './compare-view';
import { ForceView } from './force-view';
import { JudgedCard, ThreeLines } from './judged-card';
import { PackKit } from './pack-kit';
import { choiceWords, countLine, inOrder, judgedAt, judgedSites } from './verdicts';
import { controlName, isGeneric } from './words';

/** Every control at every measured site: can it be driven, why not, and what would change it. */
export function ControlsScreen(props: { readonly id: string }) {
  return (
    <VisitFrame
      id={props.id}
      title="Controls"
      wide
      actions={(view) => (
        <ButtonLink kind="main" size="big" href={links.setup(view.visit.id)}>
          Choose control and place
        </ButtonLink>
      )}
    >
      {(view) => (
        <div class="result">
          {view.result === null ? <p role="status">The verdicts are being worked out.</p> : <Verdicts view={view} result={view.result} />}
          <Part title="What is judged">
            <PackKit visit={view.visit} />
          </Part>
          <NextLinks
            print
            ways={[
              { href: links.needs(props.id), label: 'Needs' },
              { href: links.measure(props.id, 'force'), label: 'Measure force' },
              { href: links.strain(props.id), label: 'Strain' },
              { href: links.map(props.id), label: 'Visit map' },
            ]}
          />
        </div>
      )}
    </VisitFrame>
  );
}

/** Sites with anything measured or judged; the chosen one first. */
function sitesOf(visit: Visit, result: Result): readonly string[] {
  const measured = visit.readings.filter((one) => one.what === 'force' || one.what === 'travel').map((one) => one.site);
  const all = new Set([...(visit.setup ? [visit.setup.site] : []), ...judgedSites(result), ...measured]);
  return [...all];
}

function Verdicts(props: { readonly view: VisitView; readonly result: Result }) {
  const { view, result } = props;
  const { visit } = view;
  const sites = sitesOf(visit, result);
  const [chosen, setChosen] = useState('');
  const site = sites.includes(chosen) ? chosen : sites[0];
  if (site === undefined) {
    return (
      <Banner tone="note">
        <p>No site was measured yet. Measure force and travel at one site at least.</p>
      </Banner>
    );
  }
  const options = sites.map((one) => ({ value: one, label: siteWords(one) }));
  return (
    <>
      <NoneLeft result={result} />
      <Part title="Three that matter first">
        <ThreeControls result={result} visit={visit} />
      </Part>
      <Order result={result} kit={visit.kit ?? []} />
      <Windows result={result} />
      <Part title={`At the ${siteWords(site)}`}>
        {sites.length === 1 ? null : sites.length <= 5 ? (
          <Segments legend="Measured site" value={site} options={options} onChange={setChosen} />
        ) : (
          <SelectField label="Measured site" value={site} options={options} onChange={setChosen} />
        )}
        <AtSite key={site} visit={visit} result={result} site={site} />
      </Part>
      <More summary="Side by side: force, travel and every figure">
        <Drawings visit={visit} result={result} site={site} />
      </More>
    </>
  );
}

/** When no stick can be driven: what else there is. Never the end of the road. */
function NoneLeft(props: { readonly result: Result }) {
  const { left } = props.result;
  if (!left) return null;
  const change = sentenceOf(left.change);
  return (
    <Banner tone="caution">
      <p>{sentenceOf(left.message)}</p>
      {change === '' ? null : <p>{change}</p>}
    </Banner>
  );
}

/** The order of choice over all sites. */
function Order(props: { readonly result: Result; readonly kit: readonly PackedControl[] }) {
  const list = inOrder(props.result);
  return (
    <Part title="Order of choice">
      {list.length === 0 ? (
        <p>Nothing can be put in order yet.</p>
      ) : (
        <ol class="steps">
          {list.map((choice) => (
            <li key={`${choice.control} ${choice.site}`}>
              <strong>
                {controlName(choice.control, props.kit)}, {siteWords(choice.site)}
                {choice.role === 'main' ? ': main choice' : choice.role === 'fallback' ? ': fallback' : ''}
              </strong>
              <ThreeLines choice={choice} />
              {choiceWords(choice) === '' ? null : (
                <More summary="Why at this place">
                  <p>{choiceWords(choice)}</p>
                </More>
              )}
            </li>
          ))}
        </ol>
      )}
      <p class="quiet-line">A proposal with its reasons: the therapist decides. The lightest control is not the best by default.</p>
    </Part>
  );
}

/** Rested and tired apart, where they differ. */
function Windows(props: { readonly result: Result }) {
  const { windows = [] } = props.result;
  if (windows.length === 0) return null;
  return (
    <Part title="Over the day">
      <Table caption="Verdict on the chosen control and level, rested and tired" captionHidden heads={['State', 'Verdict', 'Why', 'Level']}>
        {windows.map((one) => (
          <tr key={one.state}>
            <th scope="row">{one.state}</th>
            <td>
              <VerdictMark verdict={one.verdict} />
            </td>
            <td>{sentenceOf(one.message)}</td>
            <td>{sentenceOf(one.level_message)}</td>
          </tr>
        ))}
      </Table>
      <p class="quiet-line">The two differ, so the plan must name hours. The lower one counts until it does.</p>
    </Part>
  );
}

function AtSite(props: { readonly visit: Visit; readonly result: Result; readonly site: string }) {
  const { visit, result, site } = props;
  const kit = visit.kit ?? [];
  const list = judgedAt(result, site);
  if (list.length === 0) return <p>No control has been judged here yet.</p>;
  const own = list.filter((one) => !isGeneric(one.control));
  const general = list.filter((one) => isGeneric(one.control));
  return (
    <>
      {own.length > 0 ? (
        <div class="choice-cards">
          {own.map((one) => (
            <JudgedCard key={one.control} choice={one} name={controlName(one.control, kit)} kind={controlOf(one, visit).kind} />
          ))}
        </div>
      ) : null}
      {general.length > 0 ? (
        <More summary={`Kinds of control in general: ${countLine(general)}`} open={own.length === 0}>
          <p class="field-hint">Rough starting figures from common practice, without a source. A measured control of your kit says more.</p>
          <div class="choice-cards">
            {general.map((one) => (
              <JudgedCard key={one.control} choice={one} name={controlName(one.control, kit)} kind={controlOf(one, visit).kind} />
            ))}
          </div>
        </More>
      ) : null}
    </>
  );
}

/** The set-up as one more control to draw, unless it is one of the kit by name. */
function chosenControl(visit: Visit): readonly Comparable[] {
  const { setup } = visit;
  if (!setup || (visit.kit ?? []).some((one) => one.name === setup.control)) return [];
  return [
    {
      id: 'setup',
      name: `Chosen: ${setup.control || 'this set-up'}`,
      class: setup.class,
      start: setup.start_gf,
      operate: setup.operate_gf,
      travel: setup.travel_mm,
      sealing: '',
      powerJack: false,
      modeJack: false,
      attendant: false,
      measured: '',
      generic: false,
      range: '',
    },
  ];
}

function Drawings(props: { readonly visit: Visit; readonly result: Result; readonly site: string }) {
  const { visit, result, site } = props;
  const generic = genericControls(useLimits());
  const needed = visit.setup?.needed ?? directions;
  const all = [...chosenControl(visit), ...(visit.kit ?? []).map(comparable), ...generic];
  const reach = reachOf(figuresOf(result), site, needed);
  const first = [
    ...inOrder(result)
      .filter((one) => one.site === site)
      .map((one) => one.control),
    ...all.map((one) => one.id),
  ];
  return (
    <>
      <Part title="Force available and force needed">
        <ForceView key={site} visit={visit} result={result} site={site} needed={needed} controls={all} first={first} />
      </Part>
      <Part title="What lies within reach">
        {reach === null ? (
          <Banner tone="note">
            The area at the {siteWords(site)} is drawn when force was measured in every direction that the driver must give:{' '}
            {needed.join(', ')}.
          </Banner>
        ) : null}
        <CompareView controls={all} reach={reach} />
      </Part>
    </>
  );
}
