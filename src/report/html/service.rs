//! How a spec does in a simulated service.

use maud::{Markup, html};

use super::picture::{Room, Said, Told, across, behind, name, picture, table};
use crate::report::gather::{Frame, ServiceLine, TargetLine};
use crate::report::words;

/// A bar for each target: how many serves are within it.
pub fn figure(frame: &Frame, service: &ServiceLine) -> Markup {
    let label =
        |target: &TargetLine| frame.gauge(&target.target).map_or(target.target.clone(), |g| g.label.clone());
    html! {
        figure.service {
            ul.strips {
                @for (at, target) in service.targets.iter().enumerate() {
                    @let share = words::share_words(target.within);
                    @let told = Told {
                        id: format!("service-{at}"),
                        title: format!("Serves within the limits of {}", label(target)),
                        text: format!("{share} of the serves."),
                    };
                    li.strip {
                        span.what { (name(&label(target))) }
                        (picture("pic-share", Room::Strip(24.0), &told, &bar(target)))
                        span.figure { (share) }
                        span.margin { (Said(&words::varies_with(target))) }
                    }
                }
            }
            figcaption {
                "Filled: serves within the limits; hatched: outside. Beside it, what the figure varies most with. "
                (Said(&words::service_basis(service).join(" ")))
            }
            (behind(&as_table(service, &label)))
        }
    }
}

fn bar(target: &TargetLine) -> Markup {
    html! {
        rect x="0" y="4" width="100%" height="16" fill="url(#fill-out)" {}
        rect.within x="0" y="4" width=(across(target.within)) height="16" {}
        rect.frame x="0" y="4" width="100%" height="16" {}
    }
}

fn as_table(service: &ServiceLine, label: &dyn Fn(&TargetLine) -> String) -> Markup {
    let row = |target: &TargetLine| {
        let [low, high] = target.interval.map(words::share_words);
        vec![
            label(target),
            words::share_words(target.within),
            format!("{low} to {high}"),
            words::varies_with(target),
        ]
    };
    let rows: Vec<Vec<String>> = service.targets.iter().map(row).collect();
    table(
        "Serves within the limits",
        &["target", "within", "with 95 % confidence", "varies most with"],
        &rows,
    )
}
