/** Screens that are put together from two features, which know nothing of each other. */
import { StrainScreen } from '../features/kit/strain-screen';
import { TabletPart } from '../features/lock/tablet-part';
import { PeopleScreen } from '../features/people/people-screen';
import { LookOverVisits } from '../features/trend/look-line';

/** One's account, and how this tablet locks and opens for oneself. */
export function AccountScreen() {
  return <PeopleScreen tablet={<TabletPart />} />;
}

/** The strain of driving, with the date that follows from all visits. */
export function StrainOverTimeScreen(props: { readonly id: string }) {
  return <StrainScreen id={props.id} look={(client) => <LookOverVisits client={client} />} />;
}
