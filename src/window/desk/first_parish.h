#pragma once

#include <QString>

namespace loftbeat::window {

// Where one begins who has no parish's folder yet: a copy of the demo parish of one's own, in the
// user's folder for programs' data; made at the first call. Empty if the demo cannot be found or
// copied.
[[nodiscard]] QString first_parish();

}  // namespace loftbeat::window
