import type { ComponentChildren } from 'preact';
import { Banner, ButtonLink, dateWords, More, numberWords, SavedLine, useSave } from '../../ui';
import { TASK } from '../../ui/needs';
import { Facts, Part } from '../../ui/part';
import { figureWords, statusWords, unitWords, valueWords } from '../../ui/result/figures';
import { siteWords } from '../../ui/sites';
import { Term } from '../../ui/term';
import { sentenceOf } from '../../ui/words';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { Load, PackedControl, Provenance, Quantity, Result, Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { CountField } from './count-field';
import { needsEvent } from './needs-event';
import { isBorrowed, loadGroups, looseFigures, weeksAfter, type LoadGroup } from './strain';
import { controlName } from './words';

/** The date of the next look at a client, from all visits. */
type Look = (client: string) => ComponentChildren;

/** What driving asks of the body, for how long, and when to look again. */
export function StrainScreen(props: { readonly id: string; readonly look: Look }) {
  return (
    <VisitFrame
      id={props.id}
      title="Strain"
      wide
      actions={() => (
        <ButtonLink kind="main" size="big" href={links.needs(props.id)}>
          Needs
        </ButtonLink>
      )}
    >
      {(view) => (
        <div class="result">
          {view.result === null ? (
            <p role="status">Strain is being worked out.</p>
          ) : (
            <Strain visit={view.visit} result={view.result} look={props.look} />
          )}
          <HandTask visit={view.visit} />
          <NextLinks
            print
            ways={[
              { href: links.controls(props.id), label: 'Controls' },
              { href: links.map(props.id), label: 'Visit map' },
            ]}
          />
        </div>
      )}
    </VisitFrame>
  );
}

function Strain(props: { readonly visit: Visit; readonly result: Result; readonly look: Look }) {
  const { visit, result } = props;
  const groups = loadGroups(result);
  const loose = looseFigures(result);
  if (groups.length === 0 && loose.length === 0 && !result.exposure && !result.recheck) {
    return (
      <Banner tone="note">
        <p>Nothing can be said yet. It needs a chosen control, force at its site, and how much is driven on a usual day.</p>
      </Banner>
    );
  }
  return (
    <>
      <Recheck visit={visit} result={result} look={props.look} />
      {result.exposure ? (
        <Part title={`Exposure, ${siteWords(result.exposure.site)}`}>
          <p class="lead-sentence">{sentenceOf(result.exposure.message)}</p>
        </Part>
      ) : null}
      {loose.length > 0 ? (
        <Part title="Strain of a usual day">
          <Figures figures={loose} result={result} sites />
        </Part>
      ) : null}
      {groups.map((group) => (
        <Group key={`${group.control} ${group.site}`} group={group} result={result} kit={visit.kit ?? []} />
      ))}
      <p class="quiet-line">
        Touch a word for its meaning: <Term id="strain" />, <Term id="on-and-off" />, <Term id="time-on" />. No holding-time curve exists
        for jaw or neck, and one curve for all muscles is unreliable: read these numbers as a direction, not as a limit. Pain, numbness or
        new weakness outranks them all.
      </p>
    </>
  );
}

/** What else the driving hand does: its strain adds to that of driving. */
function HandTask(props: { readonly visit: Visit }) {
  const { visit } = props;
  const saver = useSave();
  if (!isOpen(visit) || !mayWrite(roleIn(visit.team), 'needs-noted')) return null;
  return (
    <More summary="Another task of the same hand">
      <p>Such as a device for speaking or a phone. Each answer is saved when you leave the field.</p>
      <div class="grid-fields">
        {TASK.map((question) => (
          <CountField
            key={question.field}
            visit={visit}
            question={question}
            note={(what, part) => saver.save(what, () => writeVisit(visit, ...needsEvent(part)))}
          />
        ))}
      </div>
      <SavedLine state={saver.state} />
    </More>
  );
}

function Recheck(props: { readonly visit: Visit; readonly result: Result; readonly look: Look }) {
  const due = props.result.recheck;
  if (!due) return null;
  const day = weeksAfter(props.visit.started.at, due.weeks);
  return (
    <Part title="Look again">
      {day === '' ? null : (
        <p class="lead-sentence">
          By <strong>{dateWords(day)}</strong>, {due.weeks} {due.weeks === 1 ? 'week' : 'weeks'} after this visit.
        </p>
      )}
      <p>{sentenceOf(due.message)}</p>
      {props.look(props.visit.client)}
      <More summary="What this rests on">
        <Rests provenance={restsOf(props.result, 'recheck-by')} />
      </More>
    </Part>
  );
}

function Group(props: { readonly group: LoadGroup; readonly result: Result; readonly kit: readonly PackedControl[] }) {
  const { group, result } = props;
  const name = group.control === 'setup' ? 'The chosen control' : controlName(group.control, props.kit);
  return (
    <Part title={`${name}, ${siteWords(group.site)}`}>
      <div class="choice-cards">
        {group.loads.map((load) => (
          <LoadCard key={load.direction} load={load} result={result} />
        ))}
      </div>
    </Part>
  );
}

function LoadCard(props: { readonly load: Load; readonly result: Result }) {
  const { load } = props;
  return (
    <article class="choice-card">
      <div class="choice-card-head">
        <h3>{load.direction}</h3>
        <strong class="num">{load.share === undefined ? 'not measured' : `${numberWords(load.share, 0)} % of the strength`}</strong>
      </div>
      {load.share === undefined ? null : <ShareBar share={load.share} />}
      {load.message.code === 'endurance.load' ? null : <p>{sentenceOf(load.message)}</p>}
      <Figures figures={load.holding ?? []} result={props.result} />
    </article>
  );
}

/** The share on a ruler from 0 to 100 %; beyond it the bar is full and the words say how much. */
function ShareBar(props: { readonly share: number }) {
  return (
    <svg class="score-bar" viewBox="0 0 104 12" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <line class="score-line" x1="2" x2="102" y1="9" y2="9" />
      <rect class="score-fill" x="2" y="3" width={Math.min(100, Math.max(0.5, props.share))} height="6" />
    </svg>
  );
}

function Figures(props: { readonly figures: readonly Quantity[]; readonly result: Result; readonly sites?: boolean | undefined }) {
  if (props.figures.length === 0) return null;
  return (
    <div class="provenance-list">
      {props.figures.map((figure) => (
        <FigureLine
          key={`${figure.name} ${figure.site ?? ''} ${figure.direction ?? ''}`}
          figure={figure}
          result={props.result}
          site={props.sites === true}
        />
      ))}
    </div>
  );
}

function amount(figure: Quantity): string {
  if (figure.value === undefined) return 'not known';
  const value = `${valueWords({ ...figure, origin: 'measured' })} ${unitWords(figure.unit)}`.trim();
  return figure.origin === 'assumed' ? `${value} (assumed)` : value;
}

/** One number; a tap shows formula, source and how sure it is. */
function FigureLine(props: { readonly figure: Quantity; readonly result: Result; readonly site: boolean }) {
  const { figure, site } = props;
  const provenance = restsOf(props.result, figure.name);
  const summary = (
    <span>
      {figureWords(figure.name)}
      {site && figure.site ? `, ${siteWords(figure.site)}` : ''}: <span class="num">{amount(figure)}</span>
      {isBorrowed(figure, provenance) ? (
        <>
          {' '}
          <span class="borrowed">borrowed</span>
        </>
      ) : null}
    </span>
  );
  return (
    <More summary={summary}>
      {sentenceOf(figure.message) === '' ? null : <p>{sentenceOf(figure.message)}</p>}
      <Rests provenance={provenance} />
    </More>
  );
}

function restsOf(result: Result, name: string): Provenance | undefined {
  return result.provenance?.find((one) => one.quantity === name);
}

/** Formula, source and status of a number. */
function Rests(props: { readonly provenance: Provenance | undefined }) {
  const { provenance } = props;
  if (provenance === undefined) return null;
  return (
    <Facts
      rows={[
        ['Formula', sentenceOf(provenance.formula)],
        ['Source', sentenceOf(provenance.source) || 'none'],
        ['Status', statusWords(provenance)],
      ]}
    />
  );
}
