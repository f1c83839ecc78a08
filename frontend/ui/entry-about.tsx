import { useMemo } from 'preact/hooks';
import { clients, kit, openVisit } from '../lib';
import { findItem, links } from './visit/links';
import { timeWords } from './words';

/** What an entry is about, as far as this tablet knows it: the client, the visit and the item, or the control. */
export function EntryAbout(props: { readonly subject: string; readonly item: string }) {
  const { subject, item } = props;
  const control = kit.value.find((one) => one.id === subject);
  if (control !== undefined)
    return (
      <p>
        About{' '}
        <a class="link-row" href={links.kitControl(subject)}>
          {control.name}
        </a>
      </p>
    );
  const card = clients.value.find((one) => one.id === subject || one.visits.some((visit) => visit.id === subject));
  if (card === undefined) return null;
  const visit = card.visits.find((one) => one.id === subject);
  return (
    <p>
      About{' '}
      <a class="link-row" href={links.client(card.id)}>
        {card.name}
      </a>
      {visit === undefined ? null : (
        <>
          ,{' '}
          <a class="link-row" href={links.map(subject)}>
            visit of {timeWords(visit.startedAt)}
          </a>
        </>
      )}
      {visit === undefined || item === '' ? null : <ItemOf visit={subject} item={item} />}
    </p>
  );
}

function ItemOf(props: { readonly visit: string; readonly item: string }) {
  const { visit, item } = props;
  const view = useMemo(() => openVisit(visit), [visit]).value;
  const found = view === null ? undefined : findItem(view.checklist, item);
  if (found === undefined) return null;
  return (
    <>
      ,{' '}
      <a class="link-row" href={links.item(visit, found.code, item)}>
        {found.item.title}
      </a>
    </>
  );
}
