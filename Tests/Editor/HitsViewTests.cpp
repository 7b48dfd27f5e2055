#include "Editor/HitsView.h"

#include "Editor/Screen.h"

using namespace tarry;
using namespace tarry::test;

TEST_CASE("HitsView: a hit beyond what is looked for stays in the plot", "[editor]")
{
    for (const double outside : {-0.0035, -0.005})
    {
        auto model = madeUpModel("settled");
        model.report.hits.front().lag = outside; // of a neighbour, with no look-ahead
        model.report.hits.front().clearDb = 3.0; // low in the plot, where there are no words beside it
        Screen screen(model);
        const auto image = screen.picture(1.0F);
        const auto area = find<HitsView>(*screen.body, "Hits")->getBounds();
        const auto ground = image.getPixelAt(2, 2);
        int strays = 0;
        for (int y = area.getY() + 50; y < area.getBottom() - 16; ++y)
            for (int x = area.getX() + AttackView::gutter - 12; x < area.getX() + AttackView::gutter; ++x)
                strays += image.getPixelAt(x, y) != ground ? 1 : 0;
        INFO("lag " << outside << ": pixels beside the plot " << strays);
        CHECK(strays == 0);
    }
}
