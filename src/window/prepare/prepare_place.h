#pragma once

#include "window/desk/desk.h"
#include "window/desk/place.h"

namespace loftbeat::window {

class PreparePlace : public Place {
  Q_OBJECT

 public:
  // `desk` must outlive this.
  explicit PreparePlace(Desk& desk, QWidget* parent = nullptr);

 private:
  Desk& desk_;
};

}  // namespace loftbeat::window
