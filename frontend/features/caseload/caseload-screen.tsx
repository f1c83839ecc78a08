import { effect } from '@preact/signals';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { Banner, Button, Page, SelectField, TabPanel, Tabs } from '../../ui';
import { usePlace } from '../../ui/address';
import { Tablets } from '../../ui/tablets';
import { countWords } from '../../ui/words';
import { api, session, type Membership } from '../../lib';
import type { Page as CaseloadPage } from '../../lib/model.gen';
import { CaseClient } from './case-client';
import { CaseTable } from './case-table';
import { CaseVisit } from './case-visit';
import { Filters } from './filters';
import { createPages, type Pages } from './pages';
import { SetAside } from './quarantine';
import { START } from './query';

/** Lists already fetched, by person and team, so that going back finds them as they were. */
const kept = new Map<string, Pages>();

// Nothing about clients stays in memory once nobody is signed in.
effect(() => {
  if (session.value === null) kept.clear();
});

function pagesOf(team: string): Pages {
  const key = `${session.value?.person.id ?? ''} ${team}`;
  const found = kept.get(key);
  if (found) return found;
  kept.clear();
  const pages = createPages({ team, get: ({ path, search }) => api<CaseloadPage>(search ? 'POST' : 'GET', path, search) });
  kept.set(key, pages);
  return pages;
}

/** The lead's view: the team's clients, what was set aside, and the tablets. */
export function CaseloadScreen() {
  const { query } = usePlace();
  const teams = (session.value?.teams ?? []).filter((team) => team.role === 'lead');
  if (teams.length === 0) {
    return (
      <Page title="Caseload" back={{ href: '/', label: 'Today' }}>
        <Banner tone="note">The caseload is for the lead of a team. Your clients are under Today.</Banner>
      </Page>
    );
  }
  const { client, visit } = query;
  if (client && visit) return <CaseVisit key={visit} client={client} id={visit} />;
  if (client) return <CaseClient key={client} id={client} />;
  return <Team teams={teams} />;
}

function Team(props: { readonly teams: readonly Membership[] }) {
  const [chosen, setChosen] = useState(props.teams[0]?.id ?? '');
  const [tab, setTab] = useState(usePlace().query['tab'] === 'set-aside' ? 'set-aside' : 'clients');
  const pages = pagesOf(chosen);
  const state = pages.state.value;
  useEffect(() => {
    if (tab !== 'clients' && pages.state.peek().counts === null) pages.ask(START);
  }, [pages]);
  return (
    <Page
      title="Caseload"
      wide
      beside={
        <>
          {props.teams.length > 1 ? null : <span class="quiet-line">{props.teams[0]?.name}</span>}
          <a class="link-row" href="/agreement">
            Agreement between raters
          </a>
        </>
      }
    >
      {props.teams.length > 1 ? (
        <SelectField
          label="Team"
          value={chosen}
          options={props.teams.map((team) => ({ value: team.id, label: team.name }))}
          onChange={setChosen}
        />
      ) : null}
      <Tabs
        label="Caseload"
        value={tab}
        onChange={setTab}
        tabs={[
          { id: 'clients', label: 'Clients', count: state.counts?.open },
          { id: 'set-aside', label: 'Set aside', count: state.counts?.set_aside },
          { id: 'tablets', label: 'Tablets' },
        ]}
      />
      <TabPanel id={tab}>
        {tab === 'clients' ? <Clients key={chosen} team={chosen} pages={pages} /> : null}
        {tab === 'set-aside' ? (
          <div class="stack">
            <SetAside key={chosen} team={chosen} onDealt={pages.refresh} />
          </div>
        ) : null}
        {tab === 'tablets' ? (
          <div class="stack">
            <Tablets key={chosen} of={`teams/${chosen}`} />
          </div>
        ) : null}
      </TabPanel>
    </Page>
  );
}

function Clients(props: { readonly team: string; readonly pages: Pages }) {
  const { pages } = props;
  const state = pages.state.value;
  const first = useMemo(() => (state.counts === null ? START : state.query), [pages]);
  useEffect(() => pages.ask(first), [pages, first]);
  return (
    <div class="stack">
      <Filters team={props.team} pages={pages} state={state} />
      {state.error === '' ? null : (
        <Banner tone="caution" title="Not fetched" live>
          <p>{state.error} The caseload needs a network; your own clients are under Today.</p>
          <Button onPress={pages.refresh}>Try again</Button>
        </Banner>
      )}
      <p class="quiet-line" role="status">
        {state.loading && state.rows.size === 0 ? 'Fetching the caseload…' : countWords(state.total, 'client')}
      </p>
      <CaseTable pages={pages} state={state} />
    </div>
  );
}
