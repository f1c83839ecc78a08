/** The chair's outline, the places of the home and their plans. */
export { HomeScreen } from './home-screen';
export { PlaceScreen } from './place-screen';
