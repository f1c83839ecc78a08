import { useEffect, useRef, useState } from 'preact/hooks';
import { Banner, More, useDraft } from '../../ui';
import { SmallPicture } from '../../ui/pictures/measured-picture';
import { placeDrawings } from '../../ui/pictures/places';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { WhichCounts } from '../../ui/visit/which-counts';
import { newId, type VisitView } from '../../lib';
import type { Place, PlaceKind } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn } from '../../lib/visit-writer';
import { ChairPart } from './chair-part';
import { PassageRests, PassageWords } from './passage-words';
import { NewPlace } from './place-fields';
import { figuresOf, kindOf, placeFormOf } from './place-form';

function PlaceCard(props: { readonly view: VisitView; readonly place: Place }) {
  const { view, place } = props;
  const passage = view.result?.passages?.find((one) => one.place === place.place);
  return (
    <li class="card">
      <div class="place-head">
        <SmallPicture drawn={placeDrawings[place.kind as PlaceKind]} />
        <h3>{place.name}</h3>
      </div>
      <p class="field-hint">
        {kindOf(place.kind)?.label ?? place.kind}:{' '}
        {figuresOf(place)
          .map((figure) => `${figure.label.toLowerCase()} ${figure.value}`)
          .join(', ')}
        .{place.leads_to ? ` Leads to: ${place.leads_to}.` : ''}
        {place.not_needed ? ' The person does not need it, so it limits nothing.' : ''}
      </p>
      <PassageWords passage={passage} />
      <PassageRests passage={passage} />
      <a class="link-row" href={links.place(view.visit.id, place.place)}>
        Plan and figures<span class="unseen"> of {place.name}</span>
      </a>
    </li>
  );
}

function AddPlace(props: { readonly view: VisitView; readonly first: boolean; readonly onAdded: (place: string) => void }) {
  const { visit } = props.view;
  // Pressed again after a failure, or after a kill, it is the same place.
  const id = useDraft({ about: visit.id, name: 'new place id' }, '');
  const draft = useDraft({ about: visit.id, name: 'new place', title: 'A new place of the home' }, placeFormOf(undefined));
  const [fresh, setFresh] = useState(newId);
  const [open] = useState(props.first || draft.unsaved);
  useEffect(() => {
    if (draft.unsaved && id.value === '') id.set(fresh);
  }, [draft.unsaved, id.value]);
  return (
    <More summary="Add a door, corner, ramp or other place" open={open}>
      <NewPlace
        key={id.value || fresh}
        visit={visit}
        draft={draft}
        id={id.value || fresh}
        onSaved={() => {
          props.onAdded(id.value || fresh);
          id.drop();
          setFresh(newId());
        }}
      />
    </More>
  );
}

function Places(props: { readonly view: VisitView; readonly may: boolean }) {
  const places = props.view.visit.places ?? [];
  const list = useRef<HTMLUListElement>(null);
  const [added, setAdded] = useState('');
  const at = places.findIndex((one) => one.place === added);
  // Whoever has added a place wants to see whether the chair gets through.
  useEffect(() => {
    if (at >= 0) list.current?.children[at]?.scrollIntoView({ block: 'center' });
  }, [added, at >= 0]);
  return (
    <section aria-labelledby="places">
      <h2 id="places">Places to get through</h2>
      {places.length === 0 ? (
        <p>None yet. Measure the tightest first: the bathroom door, the corner before it, the ramp.</p>
      ) : (
        <ul class="plain-list places" ref={list}>
          {places.map((place) => (
            <PlaceCard key={place.place} view={props.view} place={place} />
          ))}
        </ul>
      )}
      {props.may ? <AddPlace view={props.view} first={places.length === 0} onAdded={setAdded} /> : null}
    </section>
  );
}

/** The chair's outline, and whether it gets through the home. */
export function HomeScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Home">
      {(view) => {
        const may = mayWrite(roleIn(view.visit.team), 'place-measured') && isOpen(view.visit);
        return (
          <>
            <WhichCounts view={view} />
            <ChairPart visit={view.visit} may={may} />
            <Places view={view} may={may} />
            <Banner tone="note">
              Reference figures come from a public standard and are not a duty in a private home: check your local code. A figure never
              replaces a drive with a helper beside it.
            </Banner>
            <NextLinks
              ways={[
                { href: links.part(props.id, 'hom'), label: 'Home questions' },
                { href: links.map(props.id), label: 'Visit map' },
              ]}
            />
          </>
        );
      }}
    </VisitFrame>
  );
}
