import { Banner, Button, ButtonLink, Dialog, SavedLine, useDraft, useSave } from '../../ui';
import { VisitFrame } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import type { Place } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { PassageWords } from './passage-words';
import { PlaceFields } from './place-fields';
import { figuresOf, kindOf } from './place-form';
import { PlanDrawing } from './plan-drawing';
import { SideDrawing } from './side-drawing';
import { usePlan } from './use-plan';

function Drawing(props: { readonly view: VisitView; readonly place: Place; readonly said: string }) {
  const { view, place, said } = props;
  const { chair } = view.visit;
  const { plan, error } = usePlan(view.visit, place.place);
  if (chair === undefined) return <Banner tone="note">Measure the chair first; then it is drawn here to scale.</Banner>;
  if (error !== '')
    return (
      <Banner tone="note" live>
        No drawing: {error}
      </Banner>
    );
  return plan === null ? null : <PlanDrawing plan={plan} place={place} chair={chair} said={said} />;
}

function TakeOut(props: { readonly view: VisitView; readonly place: Place }) {
  const { value: asking, set: setAsking } = useDraft({ about: props.view.visit.id, name: `take out ${props.place.place}` }, false);
  const saver = useSave();
  const { place, kind, name } = props.place;
  const gone = () => {
    setAsking(false);
    void saver.save('taken out', () => writeVisit(props.view.visit, 'place-measured', { place, kind, name, gone: true }));
  };
  return (
    <>
      <div class="actions">
        <Button kind="quiet" onPress={() => setAsking(true)}>
          Take this place out
        </Button>
      </div>
      <SavedLine state={saver.state} />
      <Dialog
        title={`Take out “${name}”?`}
        open={asking}
        onClose={() => setAsking(false)}
        actions={
          <Button kind="main" onPress={gone}>
            Take it out
          </Button>
        }
      >
        <p>It no longer counts and is no longer shown. Its figures stay in the record.</p>
      </Dialog>
    </>
  );
}

function OnePlace(props: { readonly view: VisitView; readonly place: Place }) {
  const { view, place } = props;
  const may = mayWrite(roleIn(view.visit.team), 'place-measured') && isOpen(view.visit);
  const passage = view.result?.passages?.find((one) => one.place === place.place);
  return (
    <>
      <section aria-labelledby="verdict">
        <h2 id="verdict">{kindOf(place.kind)?.label ?? place.kind}</h2>
        <PassageWords passage={passage} open />
        <ul class="place-figures">
          {figuresOf(place).map((figure) => (
            <li key={figure.label}>
              {figure.label}: <strong>{figure.value}</strong>
            </li>
          ))}
        </ul>
      </section>
      {kindOf(place.kind)?.noPlan ? (
        view.visit.chair ? (
          <SideDrawing place={place} chair={view.visit.chair} />
        ) : null
      ) : (
        <Drawing view={view} place={place} said={sentenceOf(passage?.message)} />
      )}
      {may ? (
        <section class="screen-only" aria-labelledby="figures">
          <h2 id="figures">Figures</h2>
          <PlaceFields key={place.place} visit={view.visit} place={place} />
          <TakeOut view={view} place={place} />
        </section>
      ) : null}
    </>
  );
}

/** One place of the home: its figures, and the plan with the chair in it. */
export function PlaceScreen(props: { readonly id: string; readonly place: string }) {
  const placeOf = (view: VisitView) => view.visit.places?.find((one) => one.place === props.place);
  return (
    <VisitFrame id={props.id} title={(view) => placeOf(view)?.name ?? 'Place'}>
      {(view) => {
        const place = placeOf(view);
        return (
          <>
            {place ? <OnePlace view={view} place={place} /> : <p>This place is not in the visit, or it was taken out.</p>}
            <p>A drawing never replaces a drive with a helper beside it. Check your local code.</p>
            <nav class="actions" aria-label="Go on">
              {place ? <Button onPress={() => window.print()}>Print</Button> : null}
              <ButtonLink href={links.home(props.id)}>All places</ButtonLink>
            </nav>
          </>
        );
      }}
    </VisitFrame>
  );
}
