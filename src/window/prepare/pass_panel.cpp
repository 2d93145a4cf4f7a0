#include "window/prepare/pass_panel.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <QButtonGroup>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSlider>
#include <QVBoxLayout>

#include "advise/suggestion_words.h"
#include "report/plan_text.h"
#include "window/desk/tick_button.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

struct NamedTexture {
  plan::Texture texture;
  const char* words;
};
constexpr int kTextureColumns = 3;  // so that a small screen holds them
constexpr std::array kTextures = {
    NamedTexture{plan::Texture::tune_up_octave,
                 QT_TRANSLATE_NOOP("loftbeat::window::PassPanel", "tune an octave up")},
    NamedTexture{plan::Texture::no_pedal,
                 QT_TRANSLATE_NOOP("loftbeat::window::PassPanel", "no pedal")},
    NamedTexture{plan::Texture::fuller,
                 QT_TRANSLATE_NOOP("loftbeat::window::PassPanel", "fuller chords")},
    NamedTexture{plan::Texture::unison, QT_TRANSLATE_NOOP("loftbeat::window::PassPanel", "unison")},
    NamedTexture{plan::Texture::free_harmony,
                 QT_TRANSLATE_NOOP("loftbeat::window::PassPanel", "free harmony")},
};

// Sorted indices with one of them in or out.
std::vector<std::size_t> with(std::vector<std::size_t> drawn, std::size_t one, bool in) {
  const auto at = std::lower_bound(drawn.begin(), drawn.end(), one);
  const bool there = at != drawn.end() && *at == one;
  if (in && !there) drawn.insert(at, one);
  if (!in && there) drawn.erase(at);
  return drawn;
}

bool has_box(const organ::Organ& organ) {
  return std::any_of(organ.divisions.begin(), organ.divisions.end(),
                     [](const organ::Division& division) { return division.box.has_value(); });
}

}  // namespace

PassPanel::PassPanel(Desk& desk, PlanSketch& sketch, QWidget* parent)
    : QWidget(parent), desk_(desk), sketch_(sketch) {
  auto* column = new QVBoxLayout(this);
  passes_ = new QWidget;
  (new QHBoxLayout(passes_))->setContentsMargins(0, 0, 0, 0);
  column->addWidget(passes_);
  findings_ = new QLabel;
  findings_->setWordWrap(true);
  findings_->setTextFormat(Qt::PlainText);
  findings_->setAccessibleName(tr("What the check says of this pass"));
  column->addWidget(findings_);
  auto* textures = new QGridLayout;
  for (const NamedTexture& named : kTextures) {
    auto* box = new TickButton(tr(named.words));
    const int at = static_cast<int>(textures_.size());
    textures->addWidget(box, at / kTextureColumns, at % kTextureColumns);
    textures_.push_back(box);
    connect(box, &TickButton::wanted, this, [this, box](bool in) {
      box->set_in(in);
      take_textures();
    });
  }
  column->addLayout(textures);
  auto* swell = new QHBoxLayout;
  swell_words_ = new QLabel;
  swell_ = new QSlider(Qt::Horizontal);
  swell_->setRange(0, 100);
  swell_->setPageStep(10);
  swell_->setAccessibleName(tr("Swell box, percent open"));
  swell->addWidget(swell_words_);
  swell->addWidget(swell_, 1);
  column->addLayout(swell);
  connect(swell_, &QSlider::valueChanged, this, [this](int percent) {
    swell_words_->setText(tr("Swell box %1 % open").arg(percent));
    if (showing_ || pass_ >= drawn_.size() || !judgement_ || !judgement_->checked) return;
    organ::Registration drawn = drawn_[pass_];
    const organ::Organ& organ = judgement_->checked->data.organ;
    for (std::size_t i = 0; i < organ.divisions.size() && i < drawn.swell.size(); ++i)
      if (organ.divisions[i].box) drawn.swell[i] = percent / 100.0;
    set_drawn(std::move(drawn), tr("swell box"));
  });
  switches_area_ = new QScrollArea;
  switches_area_->setWidgetResizable(true);
  switches_area_->setFrameShape(QFrame::NoFrame);
  switches_area_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  column->addWidget(switches_area_, 1);
}

// Switches that go lose the focus and would tell so.
PassPanel::~PassPanel() {
  if (switches_ != nullptr) switches_->disconnect();
}

const plan::RoutePass* PassPanel::route_pass() const {
  if (!judgement_ || !judgement_->checked) return nullptr;
  const auto& passes = judgement_->checked->planned.route.passes;
  return pass_ < passes.size() ? &passes[pass_] : nullptr;
}

std::string PassPanel::pass_label() const {
  const plan::RoutePass* pass = route_pass();
  return pass == nullptr ? "" : pass->label;
}

// Where the plan states what belongs to the chosen pass; null for an interlude and the Amen.
plan::PassPlan* PassPanel::plan_of(plan::Plan& plan) const {
  const plan::RoutePass* pass = route_pass();
  if (pass == nullptr) return nullptr;
  if (pass->kind == plan::PassKind::play_over) return &plan.play_over_plan;
  if (pass->kind != plan::PassKind::verse) return nullptr;
  return &plan.verse_plans[QString::fromStdString(pass->label).toInt()];
}

void PassPanel::set_judgement(std::shared_ptr<const Judgement> judgement) {
  judgement_ = std::move(judgement);
  drawn_.clear();
  if (judgement_ && judgement_->checked) drawn_ = judgement_->checked->planned.registrations;
  make_passes();
  make_switches();
  show_pass();
}

void PassPanel::make_passes() {
  QStringList names;
  if (judgement_ && judgement_->checked)
    for (const plan::RoutePass& pass : judgement_->checked->planned.route.passes)
      names.push_back(words(report::pass_label(pass)));
  if (pass_ >= static_cast<std::size_t>(names.size())) pass_ = 0;
  QStringList before;
  for (const QPushButton* button : passes_->findChildren<QPushButton*>())
    before.push_back(button->text());
  if (before == names && pass_buttons_ != nullptr) return;
  qDeleteAll(passes_->findChildren<QPushButton*>());
  delete pass_buttons_;
  pass_buttons_ = new QButtonGroup(this);
  for (int i = 0; i < names.size(); ++i) {
    auto* button = new QPushButton(names[i]);
    button->setCheckable(true);
    button->setAccessibleName(names[i]);
    pass_buttons_->addButton(button, i);
    passes_->layout()->addWidget(button);
  }
  connect(pass_buttons_, &QButtonGroup::idClicked, this,
          [this](int id) { choose_pass(static_cast<std::size_t>(id)); });
}

void PassPanel::make_switches() {
  if (!judgement_ || !judgement_->checked) return;
  const organ::Organ& organ = judgement_->checked->data.organ;
  const bool has_organ = judgement_->checked->context->console != nullptr;
  const std::string file = has_organ ? organ.file : "";
  if (file == organ_file_ && switches_ != nullptr) return;
  organ_file_ = file;
  if (switches_ != nullptr) switches_->disconnect();
  delete switches_area_->takeWidget();
  switches_ = nullptr;
  if (!has_organ) return;
  switches_ = new StopSwitches(organ, StopSwitches::Couplers::listed);
  switches_area_->setWidget(switches_);
  connect(switches_, &StopSwitches::stop_wanted, this, [this](std::size_t stop, bool in) {
    if (pass_ >= drawn_.size()) return;
    organ::Registration drawn = drawn_[pass_];
    drawn.stops = with(std::move(drawn.stops), stop, in);
    set_drawn(std::move(drawn), in ? tr("draw a stop") : tr("push in a stop"));
  });
  connect(switches_, &StopSwitches::coupler_wanted, this, [this](std::size_t coupler, bool in) {
    if (pass_ >= drawn_.size()) return;
    organ::Registration drawn = drawn_[pass_];
    drawn.couplers = with(std::move(drawn.couplers), coupler, in);
    set_drawn(std::move(drawn), tr("coupler"));
  });
  connect(switches_, &StopSwitches::stop_looked_at, this, &PassPanel::stop_looked_at);
  connect(switches_, &StopSwitches::looked_away, this, &PassPanel::looked_away);
}

void PassPanel::choose_pass(std::size_t pass) {
  pass_ = pass;
  show_pass();
  emit pass_chosen(pass);
}

void PassPanel::show_pass() {
  showing_ = true;
  if (pass_buttons_ != nullptr)
    if (QAbstractButton* button = pass_buttons_->button(static_cast<int>(pass_)))
      button->setChecked(true);
  const plan::RoutePass* pass = route_pass();
  const bool can_edit = pass != nullptr && (pass->kind == plan::PassKind::play_over ||
                                            pass->kind == plan::PassKind::verse);
  for (std::size_t i = 0; i < kTextures.size(); ++i) {
    textures_[i]->setEnabled(can_edit);
    textures_[i]->set_in(pass != nullptr && std::count(pass->textures.begin(), pass->textures.end(),
                                                       kTextures[i].texture) > 0);
  }
  const bool drawn = pass_ < drawn_.size() && switches_ != nullptr;
  if (switches_ != nullptr) {
    switches_->setEnabled(can_edit);
    if (drawn) switches_->set_drawn(drawn_[pass_].stops, drawn_[pass_].couplers);
  }
  const bool box = drawn && judgement_->checked && has_box(judgement_->checked->data.organ);
  swell_->setVisible(box);
  swell_words_->setVisible(box);
  if (box) {
    const organ::Organ& organ = judgement_->checked->data.organ;
    for (std::size_t i = 0; i < organ.divisions.size(); ++i)
      if (organ.divisions[i].box) {
        swell_->setValue(static_cast<int>(std::lround(100 * drawn_[pass_].swell[i])));
        break;
      }
    swell_words_->setText(tr("Swell box %1 % open").arg(swell_->value()));
  }
  showing_ = false;
  show_findings();
}

void PassPanel::show_findings() {
  if (!judgement_) return findings_->setText({});
  if (!judgement_->trouble.empty()) return findings_->setText(words(judgement_->trouble));
  QStringList told;
  if (pass_ < judgement_->moves.size() && !judgement_->moves[pass_].empty())
    told.push_back(tr("Move: %1").arg(words(judgement_->moves[pass_])));
  bool any = false;
  for (const JudgedFinding& finding : judgement_->findings) {
    if (finding.pass != static_cast<int>(pass_)) continue;
    any = any || !finding.is_note;
    told.push_back((finding.is_note ? tr("Note: %1") : tr("⚠ %1")).arg(words(finding.sentence)));
  }
  if (!any) told.push_back(tr("✓ Nothing stands against this pass."));
  findings_->setText(told.join(QLatin1Char('\n')));
}

void PassPanel::set_drawn(organ::Registration drawn, const QString& said) {
  if (!judgement_ || !judgement_->checked || route_pass() == nullptr) return;
  const plan::RegistrationPlan named = advise::named(judgement_->checked->data.organ, drawn);
  drawn_[pass_] = std::move(drawn);
  if (switches_ != nullptr) switches_->set_drawn(drawn_[pass_].stops, drawn_[pass_].couplers);
  const QString merges = said == tr("swell box") ? QStringLiteral("swell%1").arg(pass_) : QString();
  sketch_.change(
      said,
      [this, &named](plan::Plan& plan) {
        if (plan::PassPlan* pass = plan_of(plan)) pass->registration = named;
      },
      merges);
}

void PassPanel::take_textures() {
  if (showing_) return;
  std::vector<plan::Texture> chosen;
  for (std::size_t i = 0; i < kTextures.size(); ++i)
    if (textures_[i]->is_in()) chosen.push_back(kTextures[i].texture);
  if (chosen.empty()) chosen.push_back(plan::Texture::as_written);
  sketch_.change(tr("texture"), [this, &chosen](plan::Plan& plan) {
    if (plan::PassPlan* pass = plan_of(plan)) pass->textures = chosen;
  });
}

}  // namespace loftbeat::window
