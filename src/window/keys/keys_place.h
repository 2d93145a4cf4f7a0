#pragma once

#include "window/desk/desk.h"
#include "window/desk/place.h"

namespace loftbeat::window {

class KeysPlace : public Place {
  Q_OBJECT

 public:
  // `desk` must outlive this.
  explicit KeysPlace(Desk& desk, QWidget* parent = nullptr);

 private:
  Desk& desk_;
};

}  // namespace loftbeat::window
