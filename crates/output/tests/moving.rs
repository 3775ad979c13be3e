//! GIF and APNG read back by decoders: pictures, how long each is shown, and pixels.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

use draw::list::{Drawing, Role, Shape};
use draw::style::{self, Colour};
use foliowright_output as output;
use kurbo::{Rect, Shape as _, Size};
use output::{Frame, OutputError};
use std::ops::ControlFlow;

/// A white page of 40 × 30 mm with a square that is so far to the right.
fn frame(at: f64, centiseconds: u16) -> Frame {
    let mut drawing = Drawing::new(Size::new(40.0, 30.0), "");
    for (x, colour) in [(at, style::PAPER_FRONT), (30.0, style::VALLEY_INK)] {
        let path = Rect::new(x, 5.0, x + 8.0, 13.0).to_path(0.0);
        drawing.push(Role::Paper, Shape::Fill { path, colour });
    }
    Frame { drawing, centiseconds }
}

fn frames() -> Vec<Frame> {
    vec![frame(2.0, 150), frame(2.0, 8), frame(4.0, 8), frame(11.0, 40)]
}

fn on(_done: usize, _all: usize) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

/// What a still PNG shows, red, green and blue.
fn still(drawing: &Drawing, width: u32) -> Vec<u8> {
    let bytes = output::png(drawing, width).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut pixels).unwrap();
    pixels
}

/// Each picture of a GIF as it is seen, and how long.
fn shown(bytes: &[u8]) -> Vec<(Vec<u8>, u16)> {
    let mut options = gif::DecodeOptions::new();
    options.set_color_output(gif::ColorOutput::RGBA);
    let mut decoder = options.read_info(bytes).unwrap();
    let across = usize::from(decoder.width());
    let mut canvas = vec![0; across * usize::from(decoder.height()) * 3];
    let mut all = Vec::new();
    while let Some(frame) = decoder.read_next_frame().unwrap() {
        for (at, pixel) in frame.buffer.chunks_exact(4).enumerate() {
            let (x, y) = (at % usize::from(frame.width), at / usize::from(frame.width));
            let to = ((usize::from(frame.top) + y) * across + usize::from(frame.left) + x) * 3;
            if pixel[3] == 255 {
                canvas[to..to + 3].copy_from_slice(&pixel[..3]);
            }
        }
        all.push((canvas.clone(), frame.delay));
    }
    all
}

#[test]
fn a_gif_shows_what_stills_show() {
    let bytes = output::gif(frames().into_iter(), 160, &mut on).unwrap();
    let shown = shown(&bytes);
    assert_eq!(shown.iter().map(|(_, delay)| *delay).collect::<Vec<_>>(), [150, 8, 8, 40]);
    for (frame, (pixels, _)) in frames().iter().zip(&shown) {
        let wanted = still(&frame.drawing, 160);
        let most = pixels.iter().zip(&wanted).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
        // Few colours: the cells of the cube are 4 wide.
        assert!(most <= 3, "{most}");
    }
    assert_eq!(bytes, output::gif(frames().into_iter(), 160, &mut on).unwrap(), "the same bytes");
}

#[test]
fn an_apng_shows_just_what_stills_show() {
    let bytes = output::apng(frames().into_iter(), 160, &mut on).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
    let control = *reader.info().animation_control().unwrap();
    assert_eq!((control.num_frames, control.num_plays), (4, 0));
    let mut canvas = vec![0; 160 * 120 * 3];
    for frame in frames() {
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        let control = *reader.info().frame_control().unwrap();
        let [left, top, width, height] = [control.x_offset, control.y_offset, control.width, control.height]
            .map(|side| usize::try_from(side).unwrap());
        for (y, row) in pixels.chunks_exact(width * 3).take(height).enumerate() {
            let to = ((top + y) * 160 + left) * 3;
            canvas[to..to + width * 3].copy_from_slice(row);
        }
        assert_eq!((control.delay_num, control.delay_den), (frame.centiseconds, 100));
        assert_eq!(canvas, still(&frame.drawing, 160));
    }
    assert_eq!(bytes, output::apng(frames().into_iter(), 160, &mut on).unwrap(), "the same bytes");
}

#[test]
fn many_colours_are_brought_near() {
    // 40 × 30 squares of different colours.
    let mut drawing = Drawing::new(Size::new(40.0, 30.0), "");
    for (x, y) in (0..40_u8).flat_map(|x| (0..30_u8).map(move |y| (x, y))) {
        let area = Rect::from_origin_size((f64::from(x), f64::from(y)), (1.0, 1.0));
        let colour = Colour::solid(x * 6, y * 8, 100);
        drawing.push(Role::Paper, Shape::Fill { path: area.to_path(0.0), colour });
    }
    let wanted = still(&drawing, 160);
    let bytes = output::gif([Frame { drawing, centiseconds: 5 }].into_iter(), 160, &mut on).unwrap();
    let (pixels, _) = &shown(&bytes)[0];
    let apart: Vec<u32> = pixels.iter().zip(&wanted).map(|(a, b)| u32::from(a.abs_diff(*b))).collect();
    let (sum, count) = (apart.iter().sum::<u32>(), u32::try_from(apart.len()).unwrap());
    assert!(apart.iter().max().unwrap() <= &20 && sum < 4 * count, "{:?} {sum} of {count}", apart.iter().max());
}

#[test]
fn progress_is_told_and_can_stop_it() {
    let mut told = Vec::new();
    output::gif(frames().into_iter(), 16, &mut |done, all| {
        told.push((done, all));
        ControlFlow::Continue(())
    })
    .unwrap();
    assert_eq!(told, [(1, 4), (2, 4), (3, 4), (4, 4)]);
    for stopped in [
        output::gif(frames().into_iter(), 16, &mut |done, _| if done == 2 { ControlFlow::Break(()) } else { on(0, 0) }),
        output::apng(frames().into_iter(), 16, &mut |_, _| ControlFlow::Break(())),
    ] {
        assert!(matches!(stopped, Err(OutputError::Stopped)), "{stopped:?}");
    }
}

#[test]
fn animations_out_of_bounds_are_refused_before_any_work() {
    type Writer = fn(Vec<Frame>, u32) -> Result<Vec<u8>, OutputError>;
    let writers: [Writer; 2] = [
        |frames, width| output::gif(frames.into_iter(), width, &mut on),
        |frames, width| output::apng(frames.into_iter(), width, &mut on),
    ];
    for write in writers {
        let many = vec![frame(1.0, 2); 4001];
        for (frames, width) in [(Vec::new(), 100), (many, 100), (frames(), 0), (frames(), 4000), (frames(), 16_001)] {
            let refused = write(frames, width);
            assert!(matches!(refused, Err(OutputError::Moving { .. })), "{width}: {refused:?}");
        }
        let mut uneven = frames();
        uneven[2].drawing.size.width = 41.0;
        assert!(matches!(write(uneven, 100), Err(OutputError::MovingSize)));
    }
    let says = output::gif(frames().into_iter(), 4000, &mut on).unwrap_err().to_string();
    assert!(says.contains("4 pictures of 4000 × 3000 pixels"), "{says}");
}
