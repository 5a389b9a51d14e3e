/* Title of the window and where the reading starts after a change of sheet. */
window.dash_clientside = window.dash_clientside || {};
window.dash_clientside.sheet = {
  turned: function (title) {
    if (!title) { return window.dash_clientside.no_update; }
    var turned = window.sheetTurned && document.title !== title;
    window.sheetTurned = true;
    document.title = title;
    if (turned) {
      window.requestAnimationFrame(function () {
        var heading = document.querySelector("main h1");
        if (heading) { heading.setAttribute("tabindex", "-1"); heading.focus({ preventScroll: true }); window.scrollTo(0, 0); }
      });
    }
    return title;
  }
};
