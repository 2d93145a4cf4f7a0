#include "window/look_back/review_pdf.h"

#include <memory>

#include <QBuffer>
#include <QCoreApplication>
#include <QMarginsF>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>

#include "practice/words.h"
#include "report/join_strip.h"
#include "report/led.h"
#include "report/numbers.h"
#include "report/ribbon.h"
#include "report/stops.h"
#include "report/summary.h"
#include "report/tables.h"
#include "report/words.h"
#include "window/desk/words.h"
#include "window/look_back/join_painter.h"
#include "window/look_back/moment.h"
#include "window/look_back/practice_list.h"
#include "window/look_back/ribbon_painter.h"

namespace loftbeat::window {
namespace {

QString on_paper(const char* text) { return QCoreApplication::translate("look back", text); }

// Units of the page: 700 across the print, so that drawings have the room they have on a screen.
constexpr double kAcross = 700;
constexpr int kTextSize = 13;

class Paper {
 public:
  Paper(QPdfWriter& writer, QPainter& painter) : writer_(writer), painter_(painter) {
    scale_ = writer.width() / kAcross;
    painter_.scale(scale_, scale_);
    height_ = writer.height() / scale_;
  }

  void words_in(const QString& text, int size, QFont::Weight weight) {
    QFont font(QStringList{"DejaVu Sans", "Liberation Sans", "sans-serif"});
    font.setPixelSize(size);
    font.setWeight(weight);
    painter_.setFont(font);
    constexpr int kFlow = static_cast<int>(Qt::TextWordWrap) | static_cast<int>(Qt::AlignLeft);
    const QRectF needed = painter_.boundingRect(QRectF(0, 0, kAcross, height_), kFlow, text);
    make_room(needed.height());
    painter_.setPen(theme_.ink);
    painter_.drawText(QRectF(0, y_, kAcross, needed.height() + 2), kFlow, text);
    y_ += needed.height() + 0.45 * size;
  }
  void heading(const QString& text) {
    y_ += 8;
    make_room(90);  // not alone at the foot of a page
    words_in(text, 17, QFont::Bold);
  }
  void line(const QString& text) { words_in(text, kTextSize, QFont::Normal); }

  template <typename Draw>
  void drawing(double height, const Draw& draw) {
    make_room(height);
    painter_.save();
    painter_.translate(0, y_);
    painter_.setFont(QFont(QStringList{"DejaVu Sans", "Liberation Sans", "sans-serif"}));
    draw(painter_);
    painter_.restore();
    y_ += height + 8;
  }

  void table(const report::Table& table) {
    std::vector<double> widths;
    double whole = 0;
    QFont font(QStringList{"DejaVu Sans", "Liberation Sans", "sans-serif"});
    font.setPixelSize(11);
    painter_.setFont(font);
    const QFontMetricsF metrics(font, &writer_);
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
      double width = std::max(metrics.horizontalAdvance(words(table.columns[c].first)),
                              metrics.horizontalAdvance(words(table.columns[c].second)));
      for (const auto& row : table.rows)
        width = std::max(width, metrics.horizontalAdvance(words(row[c].text) + " !"));
      widths.push_back(width + 8);
      whole += widths.back();
    }
    const double fit = std::min(1.0, kAcross / whole);
    row(table, widths, fit, [&](std::size_t c) { return words(table.columns[c].first); });
    row(table, widths, fit, [&](std::size_t c) { return words(table.columns[c].second); });
    for (const auto& cells : table.rows)
      row(table, widths, fit, [&](std::size_t c) {
        const bool raised = cells[c].flag == report::Cell::Flag::raised;
        return words(cells[c].text) + (raised ? QStringLiteral(" !") : QString());
      });
    y_ += 8;
  }

  [[nodiscard]] const Theme& theme() const { return theme_; }

 private:
  void make_room(double height) {
    if (y_ + height <= height_ || y_ == 0) return;
    writer_.newPage();
    y_ = 0;
  }

  template <typename Text>
  void row(const report::Table& table, const std::vector<double>& widths, double fit,
           const Text& text) {
    constexpr double kRow = 16;
    make_room(kRow);
    QFont font(QStringList{"DejaVu Sans", "Liberation Sans", "sans-serif"});
    font.setPixelSize(std::max(7, static_cast<int>(11 * fit)));
    painter_.setFont(font);
    painter_.setPen(theme_.ink);
    double x = 0;
    for (std::size_t c = 0; c < widths.size(); ++c) {
      const double width = widths[c] * fit;
      const bool left = table.columns[c].side == report::Column::Side::left;
      painter_.drawText(QRectF(x, y_, width - 4, kRow),
                        static_cast<int>(left ? Qt::AlignLeft : Qt::AlignRight) |
                            static_cast<int>(Qt::AlignVCenter),
                        text(c));
      x += width;
    }
    y_ += kRow;
  }

  QPdfWriter& writer_;
  QPainter& painter_;
  Theme theme_ = [] {
    Theme theme = theme_of(Shade::light);
    theme.paper = Qt::white;
    return theme;
  }();
  double scale_ = 1;
  double height_ = 0;
  double y_ = 0;
};

void write_head(Paper& paper, const app::ReviewedPractice& practice) {
  const practice::Review& review = practice.review;
  paper.words_in(words(practice.tune), 24, QFont::Bold);
  QString when = when_words(practice.kept.when);
  const QString manner = manner_words(practice.note);
  if (!manner.isEmpty()) when += QStringLiteral(" (%1)").arg(manner);
  paper.line(when);
  paper.heading(on_paper("What to practise"));
  for (const std::string& sentence : review.advice) paper.line(words(sentence));
  if (review.timing.play_over) {
    paper.heading(on_paper("The play-over against verse 1"));
    for (const std::string& line : report::play_over_lines(review)) paper.line(words(line));
  }
  paper.heading(on_paper("Each time through"));
  paper.line(words(report::tempo_line(review)));
  paper.table(report::pass_table(review));
}

void write_ribbons(Paper& paper, const practice::Review& review) {
  paper.heading(on_paper("The beat"));
  const report::RibbonScale scale = report::ribbon_scale(review);
  report::RibbonFrame frame;
  frame.width = kAcross;
  frame.reach = 70;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    const report::Ribbon ribbon = report::lay_out_ribbon(review, pass, scale, frame);
    paper.drawing(ribbon.height + 22, [&](QPainter& painter) {
      painter.setPen(paper.theme().ink);
      QFont font = painter.font();
      font.setPixelSize(kTextSize);
      font.setBold(true);
      painter.setFont(font);
      painter.drawText(QPointF(0, 13),
                       words(practice::sentence_case(report::pass_name(review, pass.pass))));
      painter.translate(0, 22);
      font.setBold(false);
      painter.setFont(font);
      paint_ribbon(painter, ribbon, scale, paper.theme(), -1);
    });
  }
}

void write_joins(Paper& paper, const practice::Review& review) {
  if (!review.timing.joins.empty()) paper.heading(on_paper("Joins and stops"));
  const double beats = report::strip_beats(review);
  for (std::size_t i = 0; i < review.timing.joins.size(); ++i) {
    paper.line(moment_words(review, moment_of_join(review, static_cast<int>(i))));
    report::StripFrame frame;
    frame.width = kAcross;
    const report::JoinRow row = report::lay_out_join(review, review.timing.joins[i], beats, frame);
    paper.drawing(row.height, [&](QPainter& painter) { paint_join(painter, row, paper.theme()); });
  }
  if (!review.timing.joins.empty()) paper.table(report::join_table(review));
  const report::Table stops = report::stop_table(review);
  if (!stops.rows.empty()) paper.table(stops);
  for (const std::string& line : report::stop_lines(review)) paper.line(words(line));
}

}  // namespace

Result<std::string> review_pdf(const app::ReviewedPractice& practice) {
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  QPdfWriter writer(&buffer);
  writer.setPageSize(QPageSize(QPageSize::A4));
  writer.setPageMargins(QMarginsF(15, 15, 15, 15), QPageLayout::Millimeter);
  writer.setResolution(600);
  writer.setTitle(words(practice.tune));
  writer.setCreator(QStringLiteral("Loftbeat"));
  QPainter painter;
  if (!painter.begin(&writer))
    return Error{ErrorKind::failed,
                 "the PDF could not be made.",
                 "",
                 0,
                 0,
                 "Save the page for a browser instead, and print that."};
  Paper paper(writer, painter);
  write_head(paper, practice);
  write_ribbons(paper, practice.review);
  write_joins(paper, practice.review);
  painter.end();
  return std::string(bytes.constData(), static_cast<std::size_t>(bytes.size()));
}

}  // namespace loftbeat::window
