import { Banner } from '../../ui/banner';
import { useAskedAgain } from '../../ui/ask-again';
import { countWords } from '../../ui/words';
import { api, session, type Membership } from '../../lib';
import type { Page } from '../../lib/model.gen';

/** Tells a lead what is set aside in their teams. */
export function SetAsideLines() {
  const led = (session.value?.teams ?? []).filter((team) => team.role === 'lead');
  return (
    <>
      {led.map((team) => (
        <OfTeam key={team.id} team={team} />
      ))}
    </>
  );
}

function OfTeam(props: { readonly team: Membership }) {
  const { id, name } = props.team;
  const ask = () => api<Page>('GET', `/api/v1/teams/${encodeURIComponent(id)}/caseload?limit=1`);
  const count = useAskedAgain(ask, false, id).said?.counts.set_aside ?? 0;
  if (count === 0) return null;
  return (
    <Banner tone="note" title={`${name}: set aside`}>
      <p>
        {countWords(count, 'entry', 'entries')} from the team’s tablets {count === 1 ? 'is' : 'are'} set aside and{' '}
        {count === 1 ? 'does' : 'do'} not count until somebody deals with {count === 1 ? 'it' : 'them'}.{' '}
        <a class="link-row" href="/caseload?tab=set-aside">
          Look at what is set aside
        </a>
      </p>
    </Banner>
  );
}
