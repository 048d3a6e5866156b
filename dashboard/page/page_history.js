// Lets one press of Back lead one screen back. Streamlit adds a step to the browser's history for every word that the
// program writes into the address; what stands there of one screen is one step, whatever is written into it.
function isThisScreen(address) {
  return new URL(address, location.href).pathname === location.pathname;
}

if (!window.stepsAreScreens) {
  window.stepsAreScreens = true; // a page that draws anew reads this file again
  const addStep = history.pushState.bind(history);
  history.pushState = (state, unused, address) =>
    address && isThisScreen(address) ? history.replaceState(state, unused, address) : addStep(state, unused, address);
}
