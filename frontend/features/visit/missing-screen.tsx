import { Banner } from '../../ui';
import { VisitFrame } from '../../ui/visit/frame';
import { missingLink } from '../../ui/visit/links';
import { WhichCounts } from '../../ui/visit/which-counts';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';

const groups: readonly { readonly id: string; readonly title: string; readonly text: string }[] = [
  {
    id: 'first',
    title: 'Before anybody drives',
    text: 'Settle these before the chair moves. There is no level while one of them is open.',
  },
  { id: 'stop', title: 'Stop and safety', text: 'While one of these is open, nobody knows whether driving is safe.' },
  { id: 'needed', title: 'Needed', text: 'Wanted for the level or for the letter.' },
  { id: 'useful', title: 'Useful', text: 'Makes the picture fuller.' },
];

function Group(props: { readonly view: VisitView; readonly group: (typeof groups)[number] }) {
  const { view, group } = props;
  const rows = view.result?.missing?.filter((one) => one.group === group.id) ?? [];
  return (
    <section aria-labelledby={`missing-${group.id}`}>
      <h2 id={`missing-${group.id}`}>
        {group.title} <span class="count">{rows.length}</span>
      </h2>
      <p class="field-hint">{rows.length === 0 ? 'Nothing is missing here.' : group.text}</p>
      <ul class="rows">
        {rows.map((row) => {
          const sentence = sentenceOf(row.message);
          const [what, ...rest] = sentence.split(': ');
          // That it was not tested is why it stands here.
          const said = rest.join(': ');
          return (
            <li key={`${row.item ?? ''} ${sentence}`}>
              <a class="row-link" href={missingLink(view.visit.id, view.checklist, row)}>
                <strong>{what}</strong>
                {said === '' || said === 'not tested.' ? null : <span>{said}</span>}
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** What is not there yet, in four groups; each row opens the place to fill it in. */
export function MissingScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="What is missing" wide>
      {(view) =>
        view.result === null ? (
          <Banner tone="note">The list is being worked out.</Banner>
        ) : (
          <>
            <WhichCounts view={view} />
            {groups.map((group) => (
              <Group key={group.id} view={view} group={group} />
            ))}
          </>
        )
      }
    </VisitFrame>
  );
}
