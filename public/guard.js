// Says so on the page when the app cannot start. A plain script of its own,
// in the oldest JavaScript, because what it reports is that the rest did not
// run. The sentences are in the page.
(function () {
  "use strict";
  function say(id) {
    var wait = document.getElementById("opening-wait");
    var line = document.getElementById(id);
    if (wait && line) {
      wait.hidden = true;
      line.hidden = false;
    }
  }
  function whenRead(act) {
    if (document.readyState === "loading") {
      document.addEventListener("DOMContentLoaded", act);
    } else {
      act();
    }
  }
  var old =
    !("noModule" in document.createElement("script")) ||
    typeof WebAssembly !== "object" ||
    typeof WebAssembly.instantiate !== "function";
  if (old) {
    whenRead(function () {
      say("opening-old");
    });
    return;
  }
  // A script that does not arrive raises an error that does not bubble.
  window.addEventListener(
    "error",
    function (event) {
      if (event.target && event.target.nodeName === "SCRIPT") {
        whenRead(function () {
          say("opening-failed");
        });
      }
    },
    true
  );
  window.addEventListener("stemtide:start-failed", function (event) {
    say(event.detail === "old" ? "opening-old" : "opening-failed");
  });
})();
