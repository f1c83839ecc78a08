import { Banner } from '../../ui';
import { links } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Result, Visit } from '../../lib/model.gen';

/** Ways that a limit of the chair or a plate shuts: named by the place, whatever the level. */
export function ShutWays(props: { readonly visit: Visit; readonly result: Result }) {
  const shut = (props.result.passages ?? []).filter((passage) => passage.barred);
  if (shut.length === 0) return null;
  return (
    <Banner tone="caution" title={shut.length === 1 ? 'This way is shut' : 'These ways are shut'}>
      <ul class="plain-list">
        {shut.map((passage) => (
          <li key={passage.place}>
            <p>
              <strong>
                {passage.name}
                {passage.leads_to ? ` (to: ${passage.leads_to})` : ''}
              </strong>
              . {sentenceOf(passage.message)} Nobody drives here, not even with somebody beside.
            </p>
            <a class="link-row" href={links.place(props.visit.id, passage.place)}>
              To the place<span class="unseen">: {passage.name}</span>
            </a>
          </li>
        ))}
      </ul>
    </Banner>
  );
}
