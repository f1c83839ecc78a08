import { useMemo, useRef, useState } from 'preact/hooks';
import { Banner, Button, ChoiceRows, Form, Page, SelectField, dateWords, useDraft, useSave } from '../../ui';
import { goTo } from '../../ui/address';
import { CAUTIONS } from '../../ui/result/cautions';
import { NotHere } from '../../ui/team-download';
import { unitName } from '../../ui/units';
import { links } from '../../ui/visit/links';
import { personName } from '../../ui/words';
import { checklists, kit, newId, openClient, session, write, type ChecklistCard, type ClientView, type VisitCard } from '../../lib';
import { forceUnits } from '../../lib/model.gen';
import { packKit } from '../../lib/records/pack-kit';
import { ratable } from '../../lib/records/second-rating';
import { mayWrite, roleIn } from '../../lib/visit-writer';

function nameOf(card: ChecklistCard): string {
  return `${card.title}, ${card.version}${card.current ? '' : ' (older)'}`;
}

interface Chosen {
  readonly unit: string;
  readonly card: ChecklistCard;
  /** The visit that is rated a second time, or empty. */
  readonly first: string;
}

/** Writes the beginning of a visit and packs the team's kit; pressed again after a failure it goes on from where it was. */
function useStart(client: ClientView['client']) {
  const saver = useSave();
  /** The visit, once it is on this tablet: pressing again only packs the kit. */
  const started = useRef('');
  const start = async ({ unit, card, first }: Chosen): Promise<boolean> => {
    if (saver.busy()) return false;
    const visit = newId();
    const body = {
      client: client.id,
      team: client.team,
      unit,
      checklist: { id: card.id, version: card.version, hash: card.hash },
      ...(first === '' ? {} : { second_of: first }),
    };
    const packed = packKit(kit.value, client.team);
    const done = await saver.save('the new visit', async () => {
      if (started.current === '') {
        await write('visit-started', visit, body);
        started.current = visit;
      }
      if (packed.controls.length > 0) await write('kit-packed', started.current, packed);
    });
    if (done) goTo(links.map(started.current));
    return done;
  };
  return { start, state: saver.state };
}

function ChecklistChoice(props: {
  readonly card: ChecklistCard | undefined;
  readonly cards: readonly ChecklistCard[];
  /** A second rater answers the first one's questions. */
  readonly pinned: boolean;
  readonly onChange: (hash: string) => void;
}) {
  const { card, cards, pinned, onChange } = props;
  if (card === undefined) return <Banner tone="caution">There is no checklist on this tablet yet. Sign in once with a network.</Banner>;
  if (cards.length > 1 && !pinned) {
    const options = cards.map((one) => ({ value: one.hash, label: nameOf(one) }));
    return <SelectField label="Checklist" value={card.hash} options={options} onChange={onChange} />;
  }
  return (
    <p>
      Checklist: <strong>{nameOf(card)}</strong>
    </p>
  );
}

function SecondRaterChoice(props: {
  readonly firsts: readonly VisitCard[];
  readonly value: string;
  readonly onChange: (visit: string) => void;
}) {
  if (props.firsts.length === 0) return null;
  return (
    <SelectField
      label="Second rater of the visit of"
      value={props.value}
      onChange={props.onChange}
      hint="To see how far two therapists agree: you rate the same trial, live or from a video, and neither sees the other’s visit until both are signed."
      options={[
        { value: '', label: 'nobody: this is a visit of its own' },
        ...props.firsts.map((one) => ({ value: one.id, label: `${personName(one.startedBy)}, ${dateWords(one.startedAt)}` })),
      ]}
    />
  );
}

function StartForm(props: { readonly view: ClientView }) {
  const { client, visits } = props.view;
  const draft = useDraft({ about: client.id, name: 'start', title: 'Starting a visit' }, { unit: '', hash: '', first: '' });
  const { unit, hash, first } = draft.value;
  const [error, setError] = useState<string | undefined>(undefined);
  const { start, state } = useStart(client);
  const cards = checklists.value;
  const firsts = ratable(visits, session.value?.person.id ?? '');
  // The second rater answers the first one's questions.
  const pinned = firsts.find((one) => one.id === first)?.checklist ?? hash;
  const card = cards.find((one) => one.hash === pinned) ?? cards.find((one) => one.current) ?? cards[0];
  const save = async () => {
    if (unit === '') return setError('Expected the unit that the gauge shows, got none.');
    if (card !== undefined && (await start({ unit, card, first }))) draft.drop();
  };
  return (
    <Form onSave={save} state={state}>
      <div class="start-units">
        <ChoiceRows
          legend="Which unit does the gauge show? It stays the same for the whole visit."
          value={unit}
          error={error}
          options={forceUnits.map((one) => ({ value: one, label: one, text: unitName(one) }))}
          onChange={(value) => {
            draft.set((now) => ({ ...now, unit: value }));
            setError(undefined);
          }}
        />
      </div>
      <SecondRaterChoice firsts={firsts} value={first} onChange={(value) => draft.set((now) => ({ ...now, first: value }))} />
      <ChecklistChoice
        card={card}
        cards={cards}
        pinned={first !== ''}
        onChange={(value) => draft.set((now) => ({ ...now, hash: value }))}
      />
      <div class="actions start-act">
        <Button type="submit" kind="main" disabled={card === undefined}>
          Start the visit
        </Button>
      </div>
    </Form>
  );
}

/** Starts a visit: the gauge's unit, locked for the visit, and the checklist, the newest one unless chosen otherwise. The team's kit is packed as it is now. */
export function StartVisitScreen(props: { readonly id: string }) {
  const view = useMemo(() => openClient(props.id), [props.id]).value;
  const may = view !== null && mayWrite(roleIn(view.client.team), 'visit-started');
  return (
    <Page title="Start a visit" back={{ href: links.client(props.id), label: 'The client' }} over={view?.client.name}>
      <Banner tone="caution">
        <p>{CAUTIONS[2]}</p>
        <p>{CAUTIONS[3]}</p>
      </Banner>
      {view === null ? <NotHere /> : null}
      {view !== null && !may ? <Banner tone="note">A clinician or the lead of the team starts a visit.</Banner> : null}
      {may ? <StartForm view={view} /> : null}
    </Page>
  );
}
