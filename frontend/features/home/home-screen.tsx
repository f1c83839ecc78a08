import { useState } from 'preact/hooks';
import { Banner, More } from '../../ui';
import { SmallPicture } from '../../ui/pictures/measured-picture';
import { placeDrawings } from '../../ui/pictures/places';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import { newId, type VisitView } from '../../lib';
import type { Place, PlaceKind } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn } from '../../lib/visit-writer';
import { ChairPart } from './chair-part';
import { PassageWords } from './passage-words';
import { PlaceFields } from './place-fields';
import { figuresOf, kindOf } from './place-form';

function PlaceCard(props: { readonly view: VisitView; readonly place: Place }) {
  const { view, place } = props;
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
      <PassageWords passage={view.result?.passages?.find((one) => one.place === place.place)} />
      <a class="link-row" href={links.place(view.visit.id, place.place)}>
        Plan and figures<span class="unseen"> of {place.name}</span>
      </a>
    </li>
  );
}

function AddPlace(props: { readonly view: VisitView; readonly first: boolean }) {
  const [id, setId] = useState(newId);
  return (
    <More summary="Add a door, corner, ramp or other place" open={props.first}>
      <PlaceFields key={id} visit={props.view.visit} id={id} label="Add this place" onSaved={() => setId(newId())} />
    </More>
  );
}

/** Answers about the home that a measured place contradicts; the worse counts. */
function Contradictions(props: { readonly view: VisitView }) {
  const said = (props.view.result?.notes ?? []).filter((note) => note.code.startsWith('passage.conflict'));
  if (said.length === 0) return null;
  return (
    <Banner tone="caution" title="Answers and measures differ">
      <ul>
        {said.map((note) => (
          <li key={sentenceOf(note)}>{sentenceOf(note)}</li>
        ))}
      </ul>
    </Banner>
  );
}

function Places(props: { readonly view: VisitView; readonly may: boolean }) {
  const places = props.view.visit.places ?? [];
  return (
    <section aria-labelledby="places">
      <h2 id="places">Places to get through</h2>
      {places.length === 0 ? (
        <p>None yet. Measure the tightest first: the bathroom door, the corner before it, the ramp.</p>
      ) : (
        <ul class="plain-list places">
          {places.map((place) => (
            <PlaceCard key={place.place} view={props.view} place={place} />
          ))}
        </ul>
      )}
      {props.may ? <AddPlace view={props.view} first={places.length === 0} /> : null}
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
            <Contradictions view={view} />
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
