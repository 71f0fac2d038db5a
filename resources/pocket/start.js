// All of it, once the page is there. Nothing is asked of a network, and nothing is run that the plan says.

startViews();
startSchemes();
startLog();
startOffset();
startRehearsal();
startAwake();
setInterval(show, 200);
