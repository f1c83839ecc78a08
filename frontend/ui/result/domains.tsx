import { More } from '..';
import { levelChoices } from '../answer';
import { Part, Table } from '../part';
import { Term } from '../term';
import { sentenceOf } from '../words';
import type { Cost, Domain, Result } from '../../lib/model.gen';
import type { Definition, Section } from '../../lib/records/types';
import type { HrefOf } from './effects';
import { shortNumber, sumOf } from './explain';
import type { Titles } from './titles';

interface DomainsProps {
  readonly result: Result;
  readonly checklist: Definition;
  readonly titles: Titles;
  readonly hrefOf: HrefOf;
}

/** A score out of 100 for each domain, never one for all of them. */
export function Domains(props: DomainsProps) {
  return (
    <Part title="Domains">
      <p class="quiet-line">Out of 100 each. There is no overall score: an average would hide what matters.</p>
      <div class="domain-grid">
        {props.result.domains.map((domain) => (
          <DomainCard key={domain.code} {...props} domain={domain} />
        ))}
      </div>
    </Part>
  );
}

function DomainCard(props: DomainsProps & { readonly domain: Domain }) {
  const { domain, result, titles } = props;
  const section = props.checklist.sections.find((one) => one.code === domain.code);
  const costs = result.costs.filter((cost) => cost.domain === domain.code);
  return (
    <article class="domain">
      <h3 class="domain-title">{titles.section(domain.code)}</h3>
      <p class="domain-score">{scoreWords(domain)}</p>
      <ScoreBar domain={domain} />
      <p>{sentenceOf(domain.message)}</p>
      <p class="quiet-line">
        <Term id="coverage" />: {shortNumber(domain.coverage)} %.
      </p>
      {costs.length > 0 ? <Costs {...props} costs={costs} /> : null}
      {section ? (
        <More summary="How this number comes about">
          <SumTable checklist={props.checklist} section={section} result={result} domain={domain} />
        </More>
      ) : null}
    </article>
  );
}

/** The score, or the range that it may still fall in. */
function scoreWords(domain: Domain): string {
  if (domain.applicable === 0) return 'does not apply';
  return domain.score === undefined ? `${domain.low} to ${domain.high}` : String(domain.score);
}

/** The same on a ruler from 0 to 100: a full mark for a score, an open span for a range. */
function ScoreBar(props: { readonly domain: Domain }) {
  const { score, low, high } = props.domain;
  return (
    <svg class="score-bar" viewBox="0 0 104 12" preserveAspectRatio="none" aria-hidden="true" focusable="false">
      <line class="score-line" x1="2" x2="102" y1="9" y2="9" />
      {score === undefined ? (
        <rect class="score-span" x={2 + low} y="3" width={Math.max(1, high - low)} height="6" />
      ) : (
        <rect class="score-fill" x="2" y="3" width={Math.max(0.5, score)} height="6" />
      )}
    </svg>
  );
}

function Costs(props: DomainsProps & { readonly costs: readonly Cost[] }) {
  return (
    <>
      <h4 class="costs-title">Cost most points</h4>
      <ul class="costs">
        {props.costs.map((cost) => {
          // The sentence names the item and its points.
          const words = sentenceOf(cost.message) || (props.titles.item(cost.item)?.title ?? cost.item);
          const href = props.hrefOf(cost.item);
          return (
            <li key={cost.item}>
              {href ? (
                <a class="link-row" href={href}>
                  {words}
                </a>
              ) : (
                words
              )}
            </li>
          );
        })}
      </ul>
    </>
  );
}

function SumTable(props: { readonly checklist: Definition; readonly section: Section; readonly result: Result; readonly domain: Domain }) {
  const sum = sumOf(props.section, props.result, (id, level) => levelText(props.checklist, props.section, id, level));
  return (
    <>
      <Table caption={`Sum of ${props.section.title}`} captionHidden heads={['Item', 'Answer', 'Value 0 to 1', 'Weight', 'Value × weight']}>
        {sum.lines.map((line) => (
          <tr key={line.item.id}>
            <th scope="row">{line.item.title}</th>
            <td>{line.answer}</td>
            <td class="num">{line.value === null ? '–' : shortNumber(line.value)}</td>
            <td class="num">{line.counted === 'not-applicable' ? '–' : line.item.weight}</td>
            <td class="num">{line.points === null ? '–' : shortNumber(line.points)}</td>
          </tr>
        ))}
      </Table>
      <p>
        {sum.answeredWeight === 0
          ? 'Nothing has been answered yet.'
          : `100 × ${shortNumber(sum.points)} ÷ ${sum.answeredWeight} = ${shortNumber((100 * sum.points) / sum.answeredWeight)}, rounded.`}{' '}
        Answered weight {sum.answeredWeight} of {sum.applicableWeight} that apply.
        {props.domain.score === undefined
          ? ' Below 80 % only the range is shown: everything not tested counted as worst, and as best.'
          : ''}
      </p>
    </>
  );
}

/** A level in its item's own words, or the level itself. */
function levelText(checklist: Definition, section: Section, id: string, level: string): string {
  const item = section.items.find((one) => one.id === id);
  const choice = item ? levelChoices(item, checklist).find((one) => one.value === level) : undefined;
  if (!item || !choice) return level;
  return item.type === 'help' || choice.text === '' ? choice.label : `${choice.label}: ${choice.text}`;
}
